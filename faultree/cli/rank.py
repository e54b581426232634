"""`faultree rank`: what is likely and what to check next, in one go."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import click

from faultree.cli import complete
from faultree.cli.options import (
    answer_option,
    json_option,
    library_option,
    load_library,
    open_case,
    print_json,
    screen,
    waiting,
)

if TYPE_CHECKING:
    from faultree.strategy.case import Case


@click.command("rank")
@click.argument("symptoms", nargs=-1, required=True, metavar="SYMPTOM...", shell_complete=complete.symptoms)
@answer_option
@json_option
@library_option
def command(symptoms: tuple[str, ...], answers: tuple[str, ...], as_json: bool, folder: str | None) -> None:
    """Rank the causes of what was reported, and the checks that tell most."""
    with waiting("Working the case out"):
        case = open_case(load_library(folder), symptoms, answers)
        show = _plain(case) if as_json else _sheet(case)
    show()


def _plain(case: Case) -> Callable[[], None]:
    """What writes the case as data; by then it is worked out."""
    found = data(case)
    return lambda: print_json(found)


def _sheet(case: Case) -> Callable[[], None]:
    """What writes the case for a person to read."""
    from faultree.terminal.sheets import draw_ranking

    shown = screen()
    sheet = draw_ranking(case, shown.page)
    return lambda: shown.show(sheet)


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
