"""`faultree practice progress`: marks over time, minutes against the best strategy, weak systems and habits."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING

import click

from faultree.base.errors import CaseError
from faultree.cli.options import json_option, library_option, load_library, print_json, screen, waiting
from faultree.cli.practice.common import learner_option
from faultree.cli.record import journal_option, open_journal

if TYPE_CHECKING:
    from faultree.journal.records import Run
    from faultree.journal.store import Store
    from faultree.practice.schedule import Done


@click.command("progress")
@learner_option
@journal_option
@json_option
@library_option
def progress_command(learner: str, journal: str | None, as_json: bool, folder: str | None) -> None:
    """Show how practice goes: every run with its mark, and what to work on."""
    from faultree.journal import practised

    library = load_library(folder)
    kept = [one for one in practised.runs(open_journal(journal)) if one.mark is not None]
    runs = [one for one in kept if one.learner == learner]
    if as_json:
        print_json({"learner": learner, "runs": [_plain(one) for one in runs]})
        return
    from faultree.base.clock import system_clock
    from faultree.practice.schedule import by_system, following
    from faultree.terminal.look import text
    from faultree.terminal.practice_sheets import draw_progress

    done = tuple(_done(runs))
    shown = screen()
    shown.show(draw_progress(library, runs, by_system(done), following(library, done, system_clock()), shown.page))
    others = sorted({one.learner for one in kept} - {learner})
    if others and not runs:
        named = " or ".join(f"--learner {one}" if one else "no --learner" for one in others)
        shown.show(text(f"There are runs of others in this journal: {named}.", "dim"))


@click.command("show")
@click.argument("number", type=int, metavar="RUN")
@journal_option
@library_option
def show_command(number: int, journal: str | None, folder: str | None) -> None:
    """Show the result of a kept run again; 'practice progress' lists the runs with their numbers."""
    from faultree.cli.practice.keeping import taken_up
    from faultree.journal import practised
    from faultree.practice.view import result
    from faultree.terminal.look import text
    from faultree.terminal.practice_result import draw_result

    library = load_library(folder)
    store = open_journal(journal)
    kept = next((one for one in practised.runs(store) if one.id == number), None)
    if kept is None:
        raise CaseError(f"this journal holds no run {number}; 'faultree practice progress' lists them")
    if kept.library != library.digest:
        raise CaseError(f"run {number} belongs to another version of the tree files; show it with that one")
    with waiting("Marking"):
        run, _ = taken_up(store, kept, library)
        exercise = run.replayed(library)
        if exercise.ending is None:
            raise CaseError(f"run {number} has not ended; 'faultree practice --resume' takes up the one left last")
        found = result(exercise)
    shown = screen()
    whose = f" of {kept.learner}" if kept.learner else ""
    shown.show(text(f"Run {number}{whose}, {kept.started[:10]}, {kept.mode}"))
    shown.show(draw_result(exercise, found, shown.page))


def done_runs(store: Store, learner: str) -> tuple[Done, ...]:
    """The runs of a learner that have a mark, for the choice of the next exercise."""
    from faultree.journal import practised

    return tuple(_done(practised.runs(store, learner)))


def _done(runs: Iterable[Run]) -> Iterable[Done]:
    from faultree.practice.schedule import Done

    for one in runs:
        if one.mark is not None and one.finished is not None:
            yield Done(one.symptom, datetime.fromisoformat(one.finished), one.mark)


def _plain(run: Run) -> dict[str, object]:
    return {
        "code": run.code,
        "symptom": run.symptom,
        "mode": run.mode,
        "started": run.started,
        "finished": run.finished,
        "mark": run.mark,
        **run.summary,
    }
