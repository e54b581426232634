"""The options that let the journal's findings update likelihoods, and what is then said: only when asked for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

import click

if TYPE_CHECKING:
    from faultree.library.model import Library
    from faultree.strategy.learning import Learnt

STRENGTH = 10.0
"""The author's figures count as so many findings, unless told otherwise (as in `strategy.learning`)."""


class Asked(NamedTuple):
    """Whether history is asked for, how strong the author's figures are, and which journal."""

    wanted: bool
    strength: float
    journal: str | None


def history_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """The options; the command gets `history` and `history_strength`."""
    strength = click.option(
        "--history-strength",
        type=click.FloatRange(min=0.0, min_open=True, max=1e6),
        default=STRENGTH,
        show_default=True,
        metavar="NUMBER",
        help="With --history: the author's figures count as so many findings.",
    )
    wanted = click.option(
        "--history", is_flag=True, help="Update likelihoods from the journal's findings of the same report."
    )
    return wanted(strength(command))


def learnt(library: Library, symptoms: Sequence[str], asked: Asked) -> Learnt | None:
    """The library taught by the journal's findings of these reports; None where that was not asked for."""
    if not asked.wanted:
        return None
    from faultree.cli.record import open_journal
    from faultree.journal import book
    from faultree.journal.lessons import lessons, taught

    store = open_journal(asked.journal)
    return taught(library, symptoms, lessons(book.records(store, symptoms), symptoms), asked.strength)


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
