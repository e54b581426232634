"""`faultree walk`: the interactive case."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from faultree.cli import complete
from faultree.cli.options import library_option, load_library, screen, symptom_ids


@click.command("walk")
@click.argument("symptoms", nargs=-1, metavar="[SYMPTOM]...", shell_complete=complete.symptoms)
@library_option
@click.option("--case", "case_file", metavar="FILE", shell_complete=complete.file, help="Take a saved case up again.")
@click.option("--by", multiple=True, type=click.Choice(["crew", "line", "shop"]), help="Only checks of these.")
def command(symptoms: tuple[str, ...], folder: str | None, case_file: str | None, by: tuple[str, ...]) -> None:
    """Find a fault check by check, with what each answer changes and why.

    SYMPTOM is an id (see 'faultree' alone) or words of it; without one you choose from a list.
    Answers are read from the keyboard, or as lines from a pipe.
    """
    if symptoms and case_file:
        raise click.UsageError("name either symptoms or a saved case, not both")
    library = load_library(folder)
    from faultree.terminal.lines import Lines, Piped, Typed
    from faultree.terminal.pump import Session
    from faultree.walk.machine import start

    lines: Lines = Typed() if sys.stdin.isatty() else Piped(sys.stdin, sys.stdout)
    session = Session(start(library, by or None), screen(), lines)
    if case_file:
        from faultree.terminal import files

        session.take_up(files.load(Path(case_file)), Path(case_file))
    elif symptoms:
        session.begin(symptom_ids(library, symptoms))
    session.run()
