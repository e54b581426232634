"""`faultree practice mark` and `class`: the mark of a saved run, and a class on one sheet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from faultree.base.errors import CaseError, FaultreeError
from faultree.cli import complete
from faultree.cli.failure import FAULT
from faultree.cli.options import json_option, library_option, load_library, print_json, screen, waiting
from faultree.cli.out import force_option
from faultree.cli.practice.common import curve_option, new_file, read_data, write_curve

if TYPE_CHECKING:
    from faultree.library.model import Library
    from faultree.practice.exercise import Exercise
    from faultree.practice.saved import Run


@click.command("mark")
@click.argument("file", metavar="RUN", shell_complete=complete.file)
@curve_option
@force_option
@json_option
@library_option
def mark_command(file: str, curve: str | None, force: bool, as_json: bool, folder: str | None) -> None:
    """Mark a run that was written with -o: it is done again step by step, so the mark cannot be edited into it."""
    library = load_library(folder)
    new_file(curve, ".svg", force=force)
    from faultree.practice.view import result, summary
    from faultree.terminal.look import text
    from faultree.terminal.practice_result import draw_result

    with waiting("Marking"):
        run, exercise = _done(library, Path(file))
        found = result(exercise)
    if curve:
        write_curve(Path(curve), exercise, found, force=force)
    if as_json:
        print_json({"learner": run.learner, "mode": run.mode, "symptom": run.scenario.symptom, "mark": found.mark.mark,
                    **summary(exercise, found)})  # fmt: skip
        return
    shown = screen()
    shown.show(text(f"Run{f' of {run.learner}' if run.learner else ', no name given'}, {run.mode}"))
    shown.show(draw_result(exercise, found, shown.page))


@click.command("class")
@click.argument("files", nargs=-1, required=True, metavar="RUN...", shell_complete=complete.file)
@json_option
@library_option
def class_command(files: tuple[str, ...], as_json: bool, folder: str | None) -> None:
    """Put the runs of a class on one sheet: who, which exercise, mark, minutes, mistakes."""
    library = load_library(folder)
    from faultree.terminal.practice_sheets import draw_class

    rows: list[dict[str, Any]] = []
    bad: list[str] = []
    with waiting("Marking") as at:
        for number, file in enumerate(files):
            at(f"Marking {Path(file).name}", number, len(files))
            try:
                rows.append(_row(library, Path(file)))
            except FaultreeError as error:
                bad.append(f"{file}: {error}")
    for words in bad:
        click.echo(words, err=True)
    if as_json:
        print_json({"runs": rows})
    else:
        shown = screen()
        shown.show(draw_class(library, rows, shown.page))
    if bad:
        raise click.exceptions.Exit(FAULT)


def _row(library: Library, path: Path) -> dict[str, Any]:
    """A run as a class sheet shows it; CaseError where it does not read or has not ended."""
    from faultree.practice.view import result, summary

    run, exercise = _done(library, path)
    found = result(exercise)
    return {
        "learner": run.learner,
        "mode": run.mode,
        "symptom": run.scenario.symptom,
        "code": run.scenario.code,
        "mark": found.mark.mark,
        **summary(exercise, found),
    }


def _done(library: Library, path: Path) -> tuple[Run, Exercise]:
    from faultree.practice.saved import unpack

    run = unpack(library, read_data(path))
    exercise = run.replayed(library)
    if exercise.ending is None:
        raise CaseError(f"{path} holds a run that has not ended; it has no mark yet")
    return run, exercise
