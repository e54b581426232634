"""`faultree draw`: a symptom as a fault tree, its logic, its chart or its matrix, as a file or on the screen."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from faultree.cli import complete
from faultree.cli.options import answer_option, library_option, load_library, open_case, screen, symptom_ids, waiting
from faultree.cli.out import force_option, free, save

if TYPE_CHECKING:
    from faultree.library.model import Library
    from faultree.strategy.case import Case


@click.command("draw")
@click.argument("symptom", required=False, shell_complete=complete.symptoms)
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
@force_option
@answer_option
@library_option
def command(
    symptom: str | None,
    view: str,
    output: str | None,
    paper: str | None,
    theme: str,
    case_file: str | None,
    whole: bool,
    depth: int | None,
    pixels: int | None,
    force: bool,
    answers: tuple[str, ...],
    folder: str | None,
) -> None:
    """Draw a symptom: its fault tree, the logic behind it, its chart, or causes by checks.

    With --answer or --case the drawing shows what has been found: suspects with their probability, what is
    excluded, and the way from the likeliest cause to the symptom. Of a saved case with several reports the first is
    drawn, or the one named. Sheets of SVG or PNG are numbered files. An HTML file is one page that needs no network:
    a chart to follow step by step, a tree to fold and move.
    """
    if paper is None:  # else it may become numbered sheets
        free(output, force=force)
    library = load_library(folder)
    case = _case(library, symptom, case_file, answers)
    drawn = _report(library, case, symptom)
    if output is not None and Path(output).suffix.casefold() in (".html", ".htm"):
        _write_page(library, view, drawn, case if answers or case_file else None, Path(output), force=force)
        return
    from faultree.base.clock import system_clock
    from faultree.cli.about import version
    from faultree.diagrams.draw import draw, files, format_of
    from faultree.diagrams.drawing import Request
    from faultree.diagrams.evidence import evidence_of
    from faultree.diagrams.shown import numbered

    form = format_of(output) if output else "txt"
    asked = Request(
        library=library,
        symptom=drawn,
        evidence=evidence_of(case if answers or case_file else None),
        paper=paper or ("a4" if form == "pdf" else None),
        theme=theme,  # type: ignore[arg-type]  # the option allows only these words
        whole=whole,
        depth=depth,
        version=f"faultree {version()}",
        made=system_clock(),
    )
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


def _write_page(library: Library, view: str, symptom: str, case: Case | None, path: Path, *, force: bool) -> None:
    """Write the page of a chart or a tree, whole or not at all; DrawingError for a view that has none."""
    from faultree.diagrams.drawing import DrawingError
    from faultree.diagrams.evidence import evidence_of

    if view == "chart":
        from faultree.reports.follow import follow_html
        from faultree.strategy.chart.compile import compile_chart
        from faultree.walk.chart_page import page_of

        with waiting("Compiling the chart"):
            page = follow_html(page_of(library, compile_chart(library, [symptom])))
    elif view == "tree":
        from faultree.logic.derive import fault_tree
        from faultree.reports.explore import explore_html

        with waiting("Drawing"):
            page = explore_html(library, fault_tree(library, symptom), evidence_of(case))
    else:
        raise DrawingError(f"a page is made of a tree or a chart, not of a {view}; write it as .svg, or add --as tree")
    save(path, page, force=force)
    click.echo(f"Wrote {path}.")


def _case(library: Library, symptom: str | None, case_file: str | None, answers: tuple[str, ...]) -> Case:
    """The case to draw: a saved one, or one of the symptom with the answers given."""
    if case_file is None:
        if symptom is None:
            raise click.UsageError("name a symptom or a saved case")
        return open_case(library, [symptom], answers)
    from faultree.terminal import files
    from faultree.walk.saved import unpack

    if answers:
        raise click.UsageError("a saved case has its answers; leave --answer out")
    return unpack(library, files.load(Path(case_file))).open_case


def _report(library: Library, case: Case, named: str | None) -> str:
    """Which report of the case is drawn: the one named, else the first; what else there is is said."""
    if named is not None:
        (symptom,) = symptom_ids(library, [named])
        if symptom not in case.symptoms:
            raise click.UsageError(f"the case has no report '{symptom}', only {', '.join(case.symptoms)}")
        return symptom
    first, *others = case.symptoms
    if others:
        count = len(case.symptoms)
        click.echo(f"The case has {count} reports; this draws {first}. To draw another, name it:", err=True)
        for one in others:
            click.echo(f"  faultree draw {one} --case FILE", err=True)
    return first
