"""`faultree walk`: the interactive case."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from faultree.cli import complete
from faultree.cli.charted import chart_option, reports, split, to_follow
from faultree.cli.history import Asked, history_options, learnt
from faultree.cli.keeping import Wishes, keeper_for, keeping_options, to_take_up
from faultree.cli.options import library_option, load_library, screen, symptom_ids, waiting
from faultree.cli.record import journal_option

if TYPE_CHECKING:
    from faultree.library.model import Library
    from faultree.terminal.pump import Screen


@click.command("walk")
@click.argument("symptoms", nargs=-1, metavar="[SYMPTOM]...", shell_complete=complete.symptoms)
@library_option
@click.option("--case", "case_file", metavar="FILE", shell_complete=complete.file, help="Take a saved case up again.")
@click.option(
    "--by",
    multiple=True,
    type=click.Choice(["crew", "line", "shop"]),
    help="Only checks of these; 'by' in the walk changes it.",
)
@chart_option
@history_options
@journal_option
@keeping_options
def command(
    symptoms: tuple[str, ...],
    folder: str | None,
    case_file: str | None,
    by: tuple[str, ...],
    chart: str | None,
    history: bool,
    history_strength: float,
    journal: str | None,
    **keeping: Any,
) -> None:
    """Find a fault check by check, with what each answer changes and why.

    SYMPTOM is an id (see 'faultree' alone) or words of it; without one you choose from a list.
    Answers are read from the keyboard, or as lines from a pipe. At a terminal each step is kept as it
    happens, and a walk that was broken off is offered the next time.
    """
    chart, symptoms = split(chart, symptoms)
    if symptoms and case_file:
        raise click.UsageError("name either symptoms or a saved case, not both")
    wishes = Wishes(keeping["resume"], keeping["fresh"], keeping["keep"], keeping["state"])
    if case_file and wishes.resume:
        raise click.UsageError("--case takes up a saved case and --resume a kept walk; name one of them")
    library = load_library(folder)
    from faultree.terminal.lines import Lines, Piped, Typed
    from faultree.terminal.pump import Session
    from faultree.walk.machine import start

    lines: Lines = Typed() if sys.stdin.isatty() else Piped(sys.stdin, sys.stdout)
    named = symptom_ids(library, symptoms)
    shown = screen()
    if history:
        asked = Asked(history, history_strength, journal)
        library = _taught(library, named or reports(library, chart), case_file, asked, shown)
    followed = to_follow(library, chart, named, by)
    if followed is not None and not case_file:
        named = list(followed.symptoms)
    walk = start(library, by or None, followed)
    session = Session(walk, shown, lines, busy=lambda: waiting("Working the case out"))
    session.keeper = keeper_for(library, wishes, by_hand=lines.by_hand)
    kept = None if case_file else to_take_up(session.keeper, named, wishes, session.screen, lines)
    if kept is not None:
        session.take_up_kept(kept)
    elif case_file:
        from faultree.terminal import files

        session.take_up(files.load(Path(case_file)), Path(case_file))
    elif named:
        session.begin(named)
    session.run()


def _taught(library: Library, named: list[str], case_file: str | None, asked: Asked, shown: Screen) -> Library:
    """The library taught by the journal's findings of the reports, and on the screen what that changed."""
    if case_file:
        from faultree.terminal import files

        kept = files.load(Path(case_file)).get("symptoms")
        names = filter(lambda one: isinstance(one, str), kept if isinstance(kept, list) else ())
        named = [one for one in names if one in library.symptoms]
    if not named:
        raise click.UsageError("--history needs the symptoms named, for it learns from cases of the same report")
    with waiting("Working the history out"):
        found = learnt(library, named, asked)
    assert found is not None  # it was asked for
    from faultree.terminal.history_sheet import draw_history

    shown.show(draw_history(found, shown.page))
    return found.library
