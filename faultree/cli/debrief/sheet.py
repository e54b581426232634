"""`faultree debrief sheet`: a case on one page, for the line."""

from __future__ import annotations

from pathlib import Path

import click

from faultree.cli import complete
from faultree.cli.history import Asked, case_history_options, for_case, learnt
from faultree.cli.options import case_argument, library_option, load_library, waiting
from faultree.cli.out import force_option, free, save
from faultree.cli.record import journal_option, open_journal


@click.command("sheet")
@case_argument
@click.option(
    "-o",
    "--output",
    metavar="FILE",
    shell_complete=complete.file,
    help="A .html .pdf .md or .json; else Markdown on the screen.",
)
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Paper of a PDF.")
@click.option("--drawing/--no-drawing", default=True, show_default=True, help="With a drawing of each report.")
@force_option
@case_history_options
@journal_option
@library_option
def sheet_command(
    case: int,
    output: str | None,
    paper: str,
    drawing: bool,
    force: bool,
    history: bool | None,
    history_strength: float | None,
    journal: str | None,
    folder: str | None,
) -> None:
    """Write the sheet of a case: words, flight, ranking, what is excluded and why, next checks, block to sign."""
    from faultree.base.clock import system_clock
    from faultree.cli.about import version
    from faultree.journal import book
    from faultree.reports.fit_now import symptoms_now
    from faultree.reports.pictures import pictures
    from faultree.reports.sheet import debrief_sheet
    from faultree.reports.written import format_of, markdown, written

    if output == "":
        raise click.BadParameter("the name is empty; name a .html .pdf .md or .json", param_hint="--output")
    form = format_of(output) if output else "md"
    free(output, force=force)
    library, now = load_library(folder), system_clock()
    record = book.read(open_journal(journal), case)
    known = symptoms_now(library, record)
    asked = for_case(Asked(history, history_strength, journal), record)
    found = learnt(library, known, asked) if known else None
    author, library = library, found.library if found else library
    with waiting("Working the case out"):
        sheet = debrief_sheet(library, record, now, author)
        drawn = pictures(library, record, now, f"faultree {version()}") if drawing and form in ("html", "pdf") else ()
    if output is None:
        click.echo(markdown(sheet), nl=False)
        return
    content = written(sheet, form, drawn, "us-letter" if paper == "letter" else "a4")
    save(Path(output), content, force=force)
    click.echo(f"Wrote {output}.")
