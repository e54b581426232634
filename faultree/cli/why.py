"""`faultree why`: from a cause to the symptom in plain sentences, or what a check tells apart."""

from __future__ import annotations

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


@click.command("why")
@click.argument("symptom", shell_complete=complete.symptoms)
@click.argument("name", metavar="CAUSE_OR_CHECK", shell_complete=complete.suspects)
@answer_option
@json_option
@library_option
def command(symptom: str, name: str, answers: tuple[str, ...], as_json: bool, folder: str | None) -> None:
    """Explain how a cause leads to a symptom, what excludes it, or what a check tells apart."""
    from faultree.walk import explain, names, titles
    from faultree.walk.state import Explained

    with waiting("Working the case out"):
        case = open_case(load_library(folder), [symptom], answers)
        found = names.in_case(case, name)
        sentences = explain.sentences(case, found)
    if as_json:
        print_json({"why": list(sentences)})
    else:
        from faultree.terminal.screens import draw_said

        screen().show(draw_said(Explained(titles.title(case.library, found), sentences)))
