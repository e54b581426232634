"""`faultree draw`: a symptom as a fault tree, its logic, its chart or its matrix, as a file or on the screen."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from faultree.cli import complete
from faultree.cli.options import answer_option, library_option, load_library, open_case, screen, symptom_ids, waiting
from faultree.cli.out import force_option, free, save

if TYPE_CHECKING:
    from faultree.diagrams.drawing import Request
    from faultree.library.model import Library
    from faultree.strategy.case import Case


@click.command("draw")
@click.argument("symptoms", nargs=-1, metavar="SYMPTOM...", shell_complete=complete.symptoms)
@click.option(
    "--as", "view", type=click.Choice(["tree", "logic", "chart", "matrix"]), default="tree", help="Default: tree."
)
@click.option("-o", "--output", metavar="FILE", shell_complete=complete.file,
              help="A .svg .pdf .png .gv .mmd .txt or .html; else the screen.")  # fmt: skip
@click.option("--paper", type=click.Choice(["a4", "a3", "letter", "legal"]), help="Split over sheets. PDF: a4.")
@click.option("--theme", type=click.Choice(["light", "dark"]), default="light", help="Default: light.")
@click.option(
    "--case", "case_file", metavar="FILE", shell_complete=complete.file, help="Show what a saved case has found."
)
@click.option("--whole", is_flag=True, help="Tree: also branches that hold while nothing is wrong.")
@click.option("--depth", type=click.IntRange(1), help="Tree: only so many levels.")
@click.option("--pixels", type=click.IntRange(100, 20000), help="Width of a PNG. Default: 2 to a point.")
@click.option("--goal", type=click.Choice(["cause", "item", "restore"]), help="Chart: as in 'faultree chart'.")
@click.option("--by", multiple=True, type=click.Choice(["crew", "line", "shop"]), help="Chart: only checks of these.")
@click.option(
    "--cut", type=click.FloatRange(0.0, 1.0), metavar="PROBABILITY", help="Chart: leave unlikely branches out."
)
@force_option
@answer_option
@library_option
def command(
    symptoms: tuple[str, ...],
    view: str,
    output: str | None,
    paper: str | None,
    theme: str,
    case_file: str | None,
    whole: bool,
    depth: int | None,
    pixels: int | None,
    goal: str | None,
    by: tuple[str, ...],
    cut: float | None,
    force: bool,
    answers: tuple[str, ...],
    folder: str | None,
) -> None:
    """Draw a symptom: its fault tree, the logic behind it, its chart, or causes by checks.

    With --answer or --case the drawing shows what has been found: suspects with their probability, what is
    excluded, and the way from the likeliest cause to the symptom. Of several reports the first is drawn, with what
    all of them tell; a chart is made for all. Of a saved case the first is drawn, or the one named. Sheets of SVG or
    PNG are numbered files. An HTML file is one page that needs no network: a chart to follow step by step, a tree to
    fold and move.
    """
    if paper is None:  # else it may become numbered sheets
        free(output, force=force)
    library = load_library(folder)
    case = _case(library, symptoms, case_file, answers)
    drawn = _report(library, case, symptoms, view) if case_file is not None else case.symptoms[0]
    page = output is not None and Path(output).suffix.casefold() in (".html", ".htm")
    for words in _unused(view, output, page=page, whole=whole, depth=depth, pixels=pixels, goal=goal, by=by, cut=cut):
        click.echo(words, err=True)
    from faultree.base.clock import system_clock
    from faultree.cli.about import version
    from faultree.diagrams.draw import format_of
    from faultree.diagrams.drawing import Request
    from faultree.diagrams.evidence import evidence_of

    form = "html" if page else format_of(output) if output else "txt"
    shown = case if answers or case_file or len(case.symptoms) > 1 else None
    asked = Request(
        library=library,
        symptom=drawn,
        evidence=evidence_of(shown),
        paper=paper or ("a4" if form == "pdf" else None),
        theme=theme,  # type: ignore[arg-type]  # the option allows only these words
        whole=whole,
        depth=depth,
        goal=goal or "item",  # type: ignore[arg-type]  # the option allows only these words
        by=by or None,  # type: ignore[arg-type]  # the option allows only these words
        cut=cut,
        version=f"faultree {version()}",
        made=system_clock(),
    )
    if page and output is not None:
        _write_page(asked, view, Path(output), force=force)
        return
    _write(asked, view, output, form, pixels, force=force)


def _unused(view: str, output: str | None, *, page: bool, **given: object) -> Iterator[str]:
    """What was asked for and changes nothing in this view or format, in words."""
    ending = Path(output or "").suffix.casefold()
    of = {
        "--whole": ("tree", view == "tree" and not page),
        "--depth": ("tree", view == "tree" and not page),
        "--pixels": ("PNG", ending == ".png"),
        "--goal": ("chart", view == "chart"),
        "--by": ("chart", view == "chart"),
        "--cut": ("chart", view == "chart"),
    }
    for option, (what, used) in of.items():
        if given[option.removeprefix("--")] not in (None, (), False) and not used:
            yield f"{option} is for a {what}{' that is drawn' if what == 'tree' else ''}; it changes nothing here."


MANY = 12
"""A chart of more sheets than this is not written without saying how it becomes shorter."""


def _write(asked: Request, view: str, output: str | None, form: str, pixels: int | None, *, force: bool) -> None:
    """Draw, and write the files or show the text."""
    from faultree.diagrams.draw import draw, files
    from faultree.diagrams.shown import numbered

    shown = screen()
    with waiting("Drawing"):
        drawing = draw(asked, view)  # type: ignore[arg-type]  # the option allows only these words
        made = files(drawing, form, pixels, shown.page.width)
    if output is None:
        from faultree.terminal.look import showable

        click.echo(showable(made[0].decode(), shown.stream), nl=False)
        return
    paths = numbered(Path(output), len(made))
    for path in paths:
        free(path, force=force)
    for path, content in zip(paths, made, strict=True):
        save(path, content, force=force)
        click.echo(f"Wrote {path}.")
    if view == "chart" and len(drawing.sheets) > MANY:
        words = f"The chart has {len(drawing.sheets)} sheets. --cut 0.02 leaves unlikely branches out"
        click.echo(f"{words}, and -o FILE.html makes one page to follow.", err=True)


def _write_page(asked: Request, view: str, path: Path, *, force: bool) -> None:
    """Write the page of a chart or a tree, whole or not at all; DrawingError for a view that has none."""
    from faultree.diagrams.draw import chart_of
    from faultree.diagrams.drawing import DrawingError

    library = asked.library
    if view == "chart":
        from faultree.reports.follow import follow_html
        from faultree.walk.chart_page import page_of

        with waiting("Compiling the chart"):
            page = follow_html(page_of(library, chart_of(asked)))
    elif view == "tree":
        from faultree.logic.derive import fault_tree
        from faultree.reports.explore import explore_html

        with waiting("Drawing"):
            page = explore_html(library, fault_tree(library, asked.symptom), asked.evidence)
    else:
        raise DrawingError(f"a page is made of a tree or a chart, not of a {view}; write it as .svg, or add --as tree")
    save(path, page, force=force)
    click.echo(f"Wrote {path}.")


def _case(library: Library, symptoms: tuple[str, ...], case_file: str | None, answers: tuple[str, ...]) -> Case:
    """The case to draw: a saved one, or one of the symptoms with the answers given."""
    if case_file is None:
        if not symptoms:
            raise click.UsageError("name a symptom or a saved case")
        return open_case(library, symptoms, answers)
    from faultree.terminal import files
    from faultree.walk.saved import unpack

    if answers:
        raise click.UsageError("a saved case has its answers; leave --answer out")
    return unpack(library, files.load(Path(case_file))).open_case


def _report(library: Library, case: Case, named: tuple[str, ...], view: str) -> str:
    """Which report of the case is drawn: the one named, else the first; what else there is is said."""
    if named:
        symptom, *others = symptom_ids(library, named)
        if others:
            raise click.UsageError("of a saved case name one report to draw")
        if symptom not in case.symptoms:
            raise click.UsageError(f"the case has no report '{symptom}', only {', '.join(case.symptoms)}")
        return symptom
    first, *others = case.symptoms
    if others and view != "chart":  # which is made for all of them
        count = len(case.symptoms)
        click.echo(f"The case has {count} reports; this draws {first}. To draw another, name it:", err=True)
        for one in others:
            click.echo(f"  faultree draw {one} --case FILE", err=True)
    return first
