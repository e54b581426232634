"""`faultree practice [SYMPTOM]`: an exercise at the terminal, or answered by lines of a pipe."""

from __future__ import annotations

import sys
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from faultree.base.errors import CaseError
from faultree.cli import complete
from faultree.cli.options import library_option, load_library, screen, symptom_ids, waiting
from faultree.cli.practice.common import journal_option, learner_option, open_journal, read_data, write_data

if TYPE_CHECKING:
    from faultree.cli.practice.keeping import Keeper
    from faultree.journal.store import Store
    from faultree.library.model import Library
    from faultree.practice.exercise import Exercise
    from faultree.practice.saved import Run
    from faultree.practice.scenario import Scenario


@click.command("run")
@click.argument("symptom", required=False, shell_complete=complete.symptoms)
@click.option(
    "--level", type=click.IntRange(1, 4), help="1 one fault, 2 as in service, 3 two faults, 4 doubtful report."
)
@click.option(
    "--mode",
    type=click.Choice(["coached", "blind", "exam"]),
    default="coached",
    show_default=True,
    help="With suspects and hints, without, or as an exam.",
)
@click.option("--code", metavar="CODE", help="The exercise of a code, the same on every machine.")
@click.option("--seed", type=int, metavar="NUMBER", help="The exercise of a number; else one is drawn.")
@click.option("--exercise", "file", metavar="FILE", shell_complete=complete.file, help="An exercise that somebody set.")
@click.option("--next", "following", is_flag=True, help="What is due by spaced repetition, from the runs so far.")
@click.option(
    "--time",
    "allowed",
    type=click.FloatRange(min=0.0, min_open=True),
    metavar="MINUTES",
    help="Minutes on the clock; then the exercise ends as it stands.",
)
@learner_option
@click.option("--keep/--no-keep", default=None, help="Keep the run in the journal. Default: at a terminal, yes.")
@click.option("--resume", is_flag=True, help="Take up the exercise that was left, without asking.")
@click.option("--fresh", is_flag=True, help="Begin anew, without asking about one that was left.")
@journal_option
@click.option(
    "-o", "--output", metavar="FILE", help="Write the run to a file, for 'practice mark' and 'practice class'."
)
@library_option
def run_command(symptom: str | None, folder: str | None, **given: Any) -> None:
    """Find a hidden fault: ask checks, put right what you hold for the cause, hand over where that is wiser.

    SYMPTOM is an id or words of it; without one, the exercise is chosen as with --next. The aircraft answers
    as the hidden fault has it. Every run ends with a mark and with what could have been known at each step.
    """  # fmt: skip
    ways = {
        "SYMPTOM": symptom,
        "--code": given["code"],
        "--exercise": given["file"],
        "--next": given["following"],
        "--resume": given["resume"],
    }
    named = [name for name, value in ways.items() if value]
    if len(named) > 1:
        raise click.UsageError(f"name one of {' and '.join(named)}, not both")
    library = load_library(folder)
    by_hand = sys.stdin.isatty()
    wanted = given["keep"] if given["keep"] is not None else (by_hand or given["resume"] or bool(given["journal"]))
    store = open_journal(given["journal"]) if wanted or given["following"] else None
    asks = store is not None and (given["resume"] or not named)
    run, keeper = _resumed(library, store, given) if asks else (None, None)
    if run is None:
        run = _new(library, store, symptom, given)
        if store is not None and wanted:
            from faultree.cli.practice.keeping import begin

            keeper = begin(store, run, library)
    done, events = _play(library, run, keeper, given["allowed"])
    if done.ending is not None and keeper is not None:
        keeper.finish(done)
    if given["output"]:
        from faultree.practice.saved import Run, pack

        write_data(Path(given["output"]), pack(Run(run.scenario, run.mode, run.learner, events)))
    if done.ending is None:
        kept = "It is kept: 'faultree practice --resume' takes it up." if keeper else "It was not kept."
        click.echo(kept)


def _play(library: Library, run: Run, keeper: Keeper | None, allowed: float | None) -> tuple[Exercise, tuple[Any, ...]]:
    from faultree.base.clock import system_clock
    from faultree.terminal.lines import Lines, Piped, Typed
    from faultree.terminal.practice_pump import Practice

    lines: Lines = Typed() if sys.stdin.isatty() else Piped(sys.stdin, sys.stdout)
    events = list(run.events)

    def keep(event: Any) -> str:
        events.append(event)
        return keeper.keep(event) if keeper is not None else ""

    until = None if allowed is None else system_clock() + timedelta(minutes=allowed)
    with waiting("Setting the exercise"):
        exercise = run.replayed(library)
    session = Practice(exercise, screen(), lines, keep, lambda: until is not None and system_clock() >= until)
    return session.run(), tuple(events)


# --- which exercise ----------------------------------------------------------------------------


def _resumed(library: Library, store: Store | None, given: dict[str, Any]) -> tuple[Run | None, Keeper | None]:
    """The exercise that was left, where it is to be taken up."""
    from faultree.cli.practice.keeping import Keeper, give_up, taken_up, unfinished

    kept = unfinished(store, given["learner"], library) if store is not None and not given["fresh"] else None
    if kept is None or store is None:
        if given["resume"]:
            raise CaseError("no exercise was left that could be taken up; leave --resume out to begin one")
        return None, None
    if not given["resume"] and not _agreed(library.symptoms[kept.symptom].title):
        give_up(store, kept)
        return None, None
    return taken_up(store, kept, library), Keeper(store, kept.id)


def _agreed(title: str) -> bool:
    """Whether the person wants to go on; nobody is asked where nobody types."""
    if not sys.stdin.isatty():
        return False
    return click.confirm(f"An exercise was left: {title}. Go on with it?", default=True)


def _new(library: Library, store: Store | None, symptom: str | None, given: dict[str, Any]) -> Run:
    from faultree.practice.saved import Run
    from faultree.practice.sealed import unseal

    if given["file"]:
        data = read_data(Path(given["file"]))
        scenario = unseal(library, data)
        return Run(scenario, given["mode"], given["learner"])
    return Run(_scenario(library, store, symptom, given), given["mode"], given["learner"])


def _scenario(library: Library, store: Store | None, symptom: str | None, given: dict[str, Any]) -> Scenario:
    from random import SystemRandom

    from faultree.practice.code import SEEDS
    from faultree.practice.scenario import from_code, scenario

    if given["code"]:
        return from_code(library, given["code"])
    seed = given["seed"] if given["seed"] is not None else SystemRandom().randrange(SEEDS)
    if symptom:
        return scenario(library, symptom_ids(library, [symptom])[0], given["level"] or 1, seed)
    from faultree.base.clock import system_clock
    from faultree.cli.practice.progress import done_runs
    from faultree.practice.schedule import following

    chosen = following(library, done_runs(store, given["learner"]) if store else (), system_clock())
    click.echo(f"Chosen: {library.symptoms[chosen.symptom].title} ({chosen.why}).")
    return scenario(library, chosen.symptom, given["level"] or chosen.level, seed)
