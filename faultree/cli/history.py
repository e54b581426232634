"""The options that let the journal's findings update likelihoods, and what is then said: only when asked for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import wraps
from typing import TYPE_CHECKING, Any, NamedTuple

import click

if TYPE_CHECKING:
    from faultree.journal.records import Record
    from faultree.library.model import Library
    from faultree.strategy.learning import Learnt

STRENGTH = 10.0
"""The author's figures count as so many findings, unless told otherwise (as in `strategy.learning`)."""

MOST = 1e6
"""The author's figures count as no more findings than this."""

ALONE = "--history-strength says what the author's figures weigh against history; add --history"


class Asked(NamedTuple):
    """Whether history is asked for, how strong the author's figures are, and which journal.

    `wanted` and `strength` are None where nothing was said. A `case` of the journal teaches nothing about itself.
    """

    wanted: bool | None
    strength: float | None
    journal: str | None
    case: int | None = None


def history_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """The options; the command gets `history` and `history_strength`. UsageError for a strength without history."""

    @wraps(command)
    def checked(*args: Any, history: bool, history_strength: float | None, **given: Any) -> Any:
        if history_strength is not None and not history:
            raise click.UsageError(ALONE)
        return command(*args, history=history, history_strength=history_strength or STRENGTH, **given)

    wanted = click.option(
        "--history", is_flag=True, help="Update likelihoods from the journal's findings of the same report."
    )
    return wanted(_strength("Default: 10.")(checked))


def case_history_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """The options for a case of the journal: what it was ranked by applies until something else is said.

    The command gets `history` and `history_strength`, None where nothing was said; see `for_case`.
    """
    wanted = click.option(
        "--history/--no-history",
        default=None,
        help="Rank by the journal's findings of the same report, or not. Default: as the case was ranked last.",
    )

    @wraps(command)
    def checked(*args: Any, history: bool | None, history_strength: float | None, **given: Any) -> Any:
        if history_strength is not None and history is False:
            raise click.UsageError(ALONE)
        return command(*args, history=history, history_strength=history_strength, **given)

    return wanted(_strength("Default: as the case was ranked last, else 10.")(checked))


class Strength(click.FloatRange):
    """A number of findings, and words of its own for what is none."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """The number."""
        try:
            found = float(value)
        except (TypeError, ValueError):
            found = 0.0
        if not 0.0 < found <= MOST:
            self.fail(f"'{value}' is no number of findings; write one above 0, as {STRENGTH:g}", param, ctx)
        return found


def _strength(default: str) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    return click.option(
        "--history-strength",
        type=Strength(min=0.0, min_open=True, max=MOST),
        metavar="NUMBER",
        help=f"With --history: the author's figures count as so many findings. {default}",
    )


def for_case(asked: Asked, record: Record) -> Asked:
    """What is asked for a case: where nothing was said, what it was ranked by last. UsageError for a strength alone."""
    from faultree.journal.lessons import remembered

    before = remembered(record)
    wanted = before is not None if asked.wanted is None else asked.wanted
    if asked.strength is not None and before is None and asked.wanted is None:
        raise click.UsageError(ALONE)
    return Asked(wanted, asked.strength or before or STRENGTH, asked.journal, record.head.id)


def learnt(library: Library, symptoms: Sequence[str], asked: Asked) -> Learnt | None:
    """The library taught by the journal's findings of these reports; None where that was not asked for."""
    if not asked.wanted:
        return None
    from faultree.cli.record import open_journal
    from faultree.journal import book
    from faultree.journal.lessons import lessons, taught

    store = open_journal(asked.journal)
    others = (one for one in book.records(store, symptoms) if one.head.id != asked.case)
    return taught(library, symptoms, lessons(others, symptoms), asked.strength or STRENGTH)


def data(found: Learnt | None) -> dict[str, object]:
    """What was learnt as plain data, under a key of its own; nothing where history is not in use."""
    if found is None:
        return {}
    return {
        "history": {
            "confirmed": found.confirmed,
            "not_found": found.not_found,
            "strength": found.strength,
            "words": found.library.history,
            "shares": [one._asdict() for one in found.shares],
        }
    }
