"""`faultree chart`: the whole course of action, compiled and costed before the first check."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, get_args

import click

from faultree.cli import complete
from faultree.cli.failure import FAULT
from faultree.cli.history import Asked, history_options, learnt
from faultree.cli.history import data as history_data
from faultree.cli.options import json_option, library_option, load_library, print_json, screen, symptom_ids, waiting
from faultree.cli.out import force_option, free, save, typed
from faultree.cli.record import journal_option

if TYPE_CHECKING:
    from rich.console import RenderableType

    from faultree.base.problem import Problem
    from faultree.library.model import Library
    from faultree.strategy.chart.against import Other
    from faultree.strategy.chart.compile import Progress
    from faultree.strategy.chart.handout import Handout
    from faultree.strategy.chart.value import Chart, Goal
    from faultree.terminal.look import Page

LIMIT = 20.0
"""Seconds for which the best chart is looked for, unless told otherwise."""

CUT = 0.001
"""Branches that rest on answers which may be wrong are cut off below this probability."""

PAUSE = 0.2
"""Seconds between two looks at how far the search is."""

PAPER = 80
"""Columns of a chart that is written to a file as text."""

DRAWN = (".html", ".htm", ".svg", ".pdf", ".png", ".gv", ".mmd")
"""What `draw` writes and `chart` does not."""

goal_option = click.option(
    "--goal",
    type=click.Choice(["cause", "item", "restore"]),
    default="item",
    show_default=True,
    help="Tell the causes apart, tell apart what would be replaced, or go on until the symptom is gone.",
)
limit_option = click.option(
    "--limit",
    "limit_s",
    type=click.FloatRange(min=0.0),
    default=LIMIT,
    show_default=True,
    metavar="SECONDS",
    help="Look no longer than this for the best chart.",
)


@click.command("chart")
@click.argument("symptoms", nargs=-1, required=True, metavar="SYMPTOM...", shell_complete=complete.symptoms)
@goal_option
@click.option("--by", multiple=True, type=click.Choice(["crew", "line", "shop"]), help="Only checks of these.")
@limit_option
@click.option(
    "--cut",
    "least",
    type=click.FloatRange(min=0.0, max=1.0),
    default=CUT,
    show_default=True,
    metavar="PROBABILITY",
    help="Leave the chart where unlikely answers, which may be wrong, come together less often than this.",
)
@click.option(
    "--against",
    multiple=True,
    metavar="FILE|RULE",
    shell_complete=complete.file,
    help="Compare with a fixed order of checks (a YAML list), or with bits, bits-per-minute or likelihood.",
)
@click.option(
    "-o",
    "--output",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Write to a file: .json as plain data (for walk --chart), else as text of 80 columns.",
)
@force_option
@history_options
@journal_option
@json_option
@library_option
@click.pass_context
def command(
    context: click.Context,
    symptoms: tuple[str, ...],
    goal: Goal,
    by: tuple[str, ...],
    limit_s: float,
    least: float,
    against: tuple[str, ...],
    output: Path | None,
    force: bool,
    history: bool,
    history_strength: float,
    journal: str | None,
    as_json: bool,
    folder: str | None,
) -> None:
    """Compile the troubleshooting chart of a symptom: which check first, and where each answer leads.

    It costs the least minutes on average, or says how far from the least it can be. Ctrl-C ends the search
    and gives the best chart so far.
    """
    _text_or_data(output, symptoms)
    library = load_library(folder)
    names = symptom_ids(library, symptoms)
    found = learnt(library, names, Asked(history, history_strength, journal))
    library = found.library if found else library
    orders, problems = _orders(library, against, goal, by)
    if problems:
        for one in problems:
            click.echo(str(one), err=True)
        context.exit(FAULT)
    force = force or (output is not None and _ours(output))
    free(output, force=force)
    chart = compiled(library, names, goal, by or None, limit_s, least)
    others = _others(library, chart, against, orders, least)
    if output is not None:
        _write(output, library, chart, others, force=force)
    elif as_json:
        print_json(data(chart, others) | history_data(found))
    else:
        shown = screen()
        if found is not None:
            from faultree.terminal.history_sheet import draw_history

            shown.show(draw_history(found, shown.page))
        shown.show(*_parts(library, chart, others, shown.page))


def compiled(
    library: Library,
    symptoms: Sequence[str],
    goal: Goal = "item",
    by: Iterable[str] | None = None,
    limit_s: float = LIMIT,
    least: float = CUT,
) -> Chart:
    """The chart, with a progress bar where somebody watches; after Ctrl-C the best so far."""
    from faultree.strategy.chart.compile import compile_chart

    seconds = 0.0
    with waiting("Looking for the best chart") as at:

        def watch(now: Progress) -> None:
            nonlocal seconds
            if now.seconds - seconds > PAUSE:
                seconds = now.seconds
                words = f"No chart below {now.lower_bound:.1f} min; Ctrl-C takes the best so far"
                at(words, min(int(10 * seconds), int(10 * limit_s)), int(10 * limit_s))

        return compile_chart(library, symptoms, goal, by, limit_s, least, progress=watch)


def data(chart: Chart, others: Sequence[Other] = ()) -> dict[str, object]:
    """The chart as plain data, with the notice and what it was compared with."""
    from faultree.walk.prompt import NOTICE

    found: dict[str, object] = {**chart.to_dict(), "notice": NOTICE}
    if others:
        found["against"] = [
            {
                "name": one.name,
                "partings": [
                    {"way": [list(pair) for pair in place.way], "probability": place.probability,
                     "ours": place.ours, "theirs": place.theirs}
                    for place in one.partings
                ],
                "chart": one.chart.to_dict(),
            }
            for one in others
        ]  # fmt: skip
    return found


def _orders(
    library: Library, against: Iterable[str], goal: Goal, by: tuple[str, ...]
) -> tuple[dict[str, Handout], list[Problem]]:
    """The fixed orders of the files named, and everything that is wrong with them."""
    from faultree.library.load import content
    from faultree.library.model import Who
    from faultree.strategy.chart.against import RULES
    from faultree.strategy.chart.handout import Handout, read_handout, read_text

    orders: dict[str, Handout] = {}
    problems: list[Problem] = []
    people: tuple[Who, ...] = tuple(one for one in get_args(Who) if not by or one in by)
    for name in dict.fromkeys(against):
        if name in RULES:
            continue
        if not Path(name).exists():
            raise click.BadParameter(f"'{name}' is no file, and none of {', '.join(RULES)}", param_hint="--against")
        text = read_text(name, content(Path(name)))
        if isinstance(text, str):
            orders[name] = read_handout(library, text, name, goal, people)
        else:
            orders[name] = Handout((), (text,))
        problems += orders[name].problems
    return orders, problems


def _others(
    library: Library, chart: Chart, against: Iterable[str], orders: dict[str, Handout], least: float
) -> tuple[Other, ...]:
    if not against:
        return ()
    from faultree.strategy.chart.against import RULES, by_list, by_rule, posed_like

    posed = posed_like(library, chart, least)
    found: list[Other] = []
    for name in dict.fromkeys(against):
        if name in orders:
            found += by_list(posed, chart, orders[name], name)
        else:
            rule = next(one for one in RULES if one == name)
            found.append(by_rule(posed, chart, rule))
    return tuple(found)


def _parts(library: Library, chart: Chart, others: Sequence[Other], page: Page) -> list[RenderableType]:
    from faultree.terminal.chart_against_sheet import draw_against
    from faultree.terminal.chart_sheet import draw_chart
    from faultree.walk.chart_against import against_page
    from faultree.walk.chart_page import page_of

    parts = [draw_chart(page_of(library, chart), page)]
    if others:
        parts.append(draw_against(against_page(library, chart, others), page))
    return parts


# --- files -------------------------------------------------------------------------------------


def _text_or_data(output: Path | None, symptoms: Sequence[str]) -> None:
    """Refuse a name that promises a drawing or a page; FaultreeError with the command that makes one."""
    from faultree.base.errors import FaultreeError

    if output is not None and output.suffix.lower() in DRAWN:
        raise FaultreeError(
            f"'chart' writes text, or plain data to .json, and no {output.suffix.lower()}; "
            f"for that: faultree draw {' '.join(symptoms)} --as chart -o {typed(output)}"
        )


def _write(path: Path, library: Library, chart: Chart, others: Sequence[Other], *, force: bool) -> None:
    import json

    from faultree.terminal.chart_sheet import draw_form
    from faultree.terminal.look import Look, Page
    from faultree.terminal.pump import Screen

    if path.suffix.lower() == ".json":
        history = {"history": library.history} if library.history else {}
        text = json.dumps(data(chart, others) | history, indent=2, ensure_ascii=False) + "\n"
    else:
        paper = io.StringIO()
        page = Page(PAPER, plain=True)
        parts = [*_parts(library, chart, others, page), draw_form(chart.digest, page)]
        Screen(paper, Look(plain=True, width=PAPER)).show(*parts)
        text = paper.getvalue()
    save(path, text, force=force)
    click.echo(f"Wrote {path}.")


def _ours(path: Path) -> bool:
    """Whether a file is an earlier chart, which may be replaced."""
    if not path.is_file():
        return False
    head = path.read_text(encoding="utf-8", errors="replace")[:200]
    return head.startswith(("Troubleshooting chart: ", '{\n  "chart": '))
