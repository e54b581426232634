"""`faultree practice [SYMPTOM]`: an exercise at the terminal, or answered by lines of a pipe."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from faultree.base.errors import CaseError, JournalError
from faultree.cli import complete
from faultree.cli.options import library_option, load_library, screen, symptom_ids, waiting
from faultree.cli.out import force_option, say
from faultree.cli.practice.common import (
    curve_option,
    learner_option,
    new_file,
    read_data,
    write_curve,
    write_data,
)
from faultree.cli.record import journal_option, new_journal, open_journal

if TYPE_CHECKING:
    from faultree.cli.practice.keeping import Keeper
    from faultree.journal.records import Run as Kept
    from faultree.journal.store import Store
    from faultree.library.model import Library
    from faultree.practice.exercise import Exercise
    from faultree.practice.saved import Run
    from faultree.practice.scenario import Scenario
    from faultree.terminal.practice_offer import Choice


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
@curve_option
@force_option
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
    fixed = next((name for name in ("--code", "--exercise", "--resume") if ways[name]), None)
    if fixed and (given["level"] is not None or given["seed"] is not None):
        raise click.UsageError(f"{fixed} says which exercise it is; leave --level and --seed out")
    library = load_library(folder)
    new_file(given["output"], force=given["force"])
    new_file(given["curve"], ".svg", force=given["force"])
    store = _store(given, needed=given["resume"] or given["following"])
    begun = _resumed(library, store, given) if given["resume"] or not named else None
    if begun is None:
        run = _new(library, store, symptom, given)
        begun = Begun(run, _keeper(library, store, run, given), _deadline(given["allowed"], None))
    done, events = _play(library, begun)
    _finish(begun, done, events, given)


def _finish(begun: Begun, done: Exercise, events: tuple[Any, ...], given: dict[str, Any]) -> None:
    """Keep the mark, write the files that were asked for, and say what becomes of a run that was left."""
    if done.ending is not None and begun.keeper is not None:
        _say(begun.keeper.finish(done))
    if given["output"]:
        from faultree.practice.saved import Run, pack

        run = Run(begun.run.scenario, begun.run.mode, begun.run.learner, events)
        write_data(Path(given["output"]), pack(run), force=given["force"])
    if done.ending is not None and given["curve"]:
        from faultree.practice.view import result

        write_curve(Path(given["curve"]), done, result(done), force=given["force"])
    if done.ending is None:
        if given["output"]:
            click.echo(f"{given['output']} holds the run so far; without an end it has no mark.")
        if begun.keeper or not given["output"]:
            click.echo(f"It is kept: {_takes_up(begun.run.learner)}" if begun.keeper else "It was not kept.")


def _play(library: Library, begun: Begun) -> tuple[Exercise, tuple[Any, ...]]:
    from faultree.base.clock import system_clock
    from faultree.terminal.lines import Lines, Piped, Typed
    from faultree.terminal.practice_pump import Practice

    lines: Lines = Typed() if sys.stdin.isatty() else Piped(sys.stdin, sys.stdout)
    events, keeper, until = list(begun.run.events), begun.keeper, begun.until

    def keep(event: Any) -> str:
        events.append(event)
        return keeper.keep(event) if keeper is not None else ""

    with waiting("Setting the exercise"):
        exercise = begun.run.replayed(library)
    session = Practice(
        exercise,
        screen(),
        lines,
        keep,
        clock=lambda: None if until is None else (until - system_clock()).total_seconds() / 60.0,
        busy=lambda: waiting("Working the mark out"),
    )
    return session.run(), tuple(events)


# --- the journal -------------------------------------------------------------------------------


@dataclass(frozen=True)
class Begun:
    """A run that can go on, what keeps it (None: nothing), and when the clock ends it (None: never)."""

    run: Run
    keeper: Keeper | None
    until: datetime | None


def _store(given: dict[str, Any], *, needed: bool) -> Store | None:
    """The journal, where the run is to be kept or others are needed; one that cannot be used stops no exercise."""
    if not (_wanted(given) or needed):
        return None
    try:
        # What was left can only be in a journal that is there.
        return open_journal(given["journal"]) if given["resume"] else new_journal(given["journal"])
    except JournalError as error:
        if needed:
            raise
        _say(_not_kept(error))
        return None


def _wanted(given: dict[str, Any]) -> bool:
    """Whether the run is to be kept: as was said, else where somebody types or a journal is named."""
    return bool(given["keep"]) if given["keep"] is not None else (sys.stdin.isatty() or bool(given["journal"]))


def _keeper(library: Library, store: Store | None, run: Run, given: dict[str, Any]) -> Keeper | None:
    from faultree.cli.practice.keeping import begin

    if store is None or not _wanted(given):
        return None
    try:
        return begin(store, run, library, given["allowed"])
    except JournalError as error:
        _say(_not_kept(error))
        return None


def _not_kept(error: JournalError) -> str:
    return f"This run is not kept: {error}. The exercise goes on."


def _say(words: str) -> None:
    if words:
        say([words])


def _deadline(allowed: float | None, started: str | None) -> datetime | None:
    """When the clock ends a run: a time that was set runs on while the run is left."""
    from faultree.base.clock import system_clock

    begun = datetime.fromisoformat(started) if started else system_clock()
    return None if allowed is None else begun + timedelta(minutes=allowed)


# --- which exercise ----------------------------------------------------------------------------


def _resumed(library: Library, store: Store | None, given: dict[str, Any]) -> Begun | None:
    """The exercise that was left, where it is to be taken up."""
    from faultree.cli.practice.keeping import Keeper, outdated, taken_up, unfinished

    if store is None or given["fresh"]:
        return None
    kept = unfinished(store, given["learner"], library)
    if kept is None:
        if given["resume"]:
            other = outdated(store, given["learner"], library)
            why = " with these tree files: it belongs to another version of them" if other else ""
            raise CaseError(f"no exercise was left that could be taken up{why}; leave --resume out to begin one")
        return None
    if not (given["resume"] or _goes_on(library, store, kept, given)):
        return None
    run, allowed = taken_up(store, kept, library)
    return Begun(run, Keeper(store, kept.id), _deadline(allowed, kept.started))


def _goes_on(library: Library, store: Store, kept: Kept, given: dict[str, Any]) -> bool:
    """Whether the person wants to go on with what was left; only `discard` throws it away."""
    from faultree.cli.practice.keeping import give_up

    if not sys.stdin.isatty():
        return False  # nobody types, so nobody is asked; what was left stays there to be taken up
    if given["seed"] is not None or given["level"] is not None:
        return False  # what was asked for is another one
    choice = _chosen(library.symptoms[kept.symptom].title)
    if choice == "quit":
        raise click.exceptions.Exit(0)
    if choice == "discard":
        give_up(store, kept)
        _say("It was discarded.")
    if choice == "new":
        _say(f"It stays kept: {_takes_up(given['learner'])}")
    return choice == "go on"


def _chosen(title: str) -> Choice:
    """What the person wants to become of the exercise that was left."""
    from faultree.terminal.lines import Typed
    from faultree.terminal.practice_offer import choose

    return choose(title, screen(), Typed())


def _takes_up(learner: str) -> str:
    whose = f" --learner {learner}" if learner else ""
    return f"'faultree practice --resume{whose}' takes it up."


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
