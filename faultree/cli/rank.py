"""`faultree rank`: what is likely and what to check next, in one go."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import click

from faultree.cli import complete
from faultree.cli.history import Asked, history_options, learnt
from faultree.cli.history import data as history_data
from faultree.cli.options import (
    answer_option,
    json_option,
    library_option,
    load_library,
    open_case,
    print_json,
    screen,
    symptom_ids,
    waiting,
)
from faultree.cli.record import journal_option

if TYPE_CHECKING:
    from faultree.strategy.case import Case
    from faultree.strategy.learning import Learnt


@click.command("rank")
@click.argument("symptoms", nargs=-1, required=True, metavar="SYMPTOM...", shell_complete=complete.symptoms)
@answer_option
@history_options
@journal_option
@json_option
@library_option
def command(
    symptoms: tuple[str, ...],
    answers: tuple[str, ...],
    history: bool,
    history_strength: float,
    journal: str | None,
    as_json: bool,
    folder: str | None,
) -> None:
    """Rank the causes of what was reported, and the checks that tell most."""
    asked = Asked(history, history_strength, journal)
    with waiting("Working the case out"):
        library = load_library(folder)
        found = learnt(library, symptom_ids(library, symptoms), asked) if asked.wanted else None
        case = open_case(found.library if found else library, symptoms, answers)
        show = _plain(case, found) if as_json else _sheet(case, found)
    show()


def _plain(case: Case, found: Learnt | None) -> Callable[[], None]:
    """What writes the case as data; by then it is worked out."""
    whole = data(case) | history_data(found)
    return lambda: print_json(whole)


def _sheet(case: Case, found: Learnt | None) -> Callable[[], None]:
    """What writes the case for a person to read; where history is in use, what it changed stands first."""
    from faultree.terminal.sheets import draw_ranking

    shown = screen()
    parts = [draw_ranking(case, shown.page)]
    if found is not None:
        from faultree.terminal.history_sheet import draw_history

        parts.insert(0, draw_history(found, shown.page))
    return lambda: shown.show(*parts)


def data(case: Case) -> dict[str, object]:
    """The case as plain data with the field names of the Python values."""
    from faultree.belief.evidence import Reply
    from faultree.walk.prompt import NOTICE

    return {
        "symptoms": list(case.symptoms),
        "answers": {step.check: step.answer for step in case.steps if isinstance(step, Reply)},
        "bound": case.bound,
        "ranking": [one._asdict() for one in case.ranking()],
        "explanations": [one._asdict() for one in case.explanations()],
        "checks": [one._asdict() for one in case.checks()],
        "advice": [one._asdict() for one in case.advice()],
        "notice": NOTICE,
    }
