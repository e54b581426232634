"""`faultree practice key`: the answer of an exercise, on the screen or as a page to print."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from faultree.cli import complete
from faultree.cli.options import library_option, load_library, screen, waiting
from faultree.cli.out import force_option, save
from faultree.cli.practice.common import new_file, read_data

FORMS = (".html", ".md", ".txt")


@click.command("key")
@click.argument("file", required=False, metavar="[EXERCISE]", shell_complete=complete.file)
@click.option("--code", metavar="CODE", help="The exercise of a code.")
@click.option("-o", "--output", metavar="FILE", shell_complete=complete.file,
              help="A .html to print, its drawing inside; or .md, .txt.")  # fmt: skip
@force_option
@library_option
def key_command(file: str | None, code: str | None, output: str | None, force: bool, folder: str | None) -> None:
    """Print the answer of an exercise: what is hidden, and how the best strategy finds it."""
    if bool(file) == bool(code):
        raise click.UsageError("name an exercise file, or --code and its code")
    library = load_library(folder)
    from faultree.practice.key import AnswerKey, answer_key
    from faultree.practice.scenario import from_code
    from faultree.practice.sealed import unseal
    from faultree.terminal.practice_sheets import draw_key

    new_file(output, *FORMS, force=force)
    with waiting("Looking for the best strategy"):
        key: AnswerKey = answer_key(
            library, from_code(library, code) if code else unseal(library, read_data(Path(file or "")))
        )
    if output is None:
        shown = screen()
        shown.show(draw_key(key, shown.page))
        return
    from faultree.base.clock import system_clock
    from faultree.cli.about import version
    from faultree.reports.practice_key import drawing_pages, drawing_text, html, markdown, plain

    path = Path(output)
    if path.suffix.lower() == ".txt":
        save(path, plain(key, drawing_text(key)), force=force)
    else:
        with waiting("Drawing"):
            pages = drawing_pages(key, f"faultree {version()}", system_clock())
        if path.suffix.lower() == ".html":
            save(path, html(key, pages), force=force)
        else:
            save(path, markdown(key, _beside(path, pages, force=force)), force=force)
    click.echo(f"Written to {output}.")


def _beside(path: Path, pages: Sequence[str], *, force: bool) -> list[str]:
    """Write the sheets of a drawing beside a page that can only name them; their names."""
    named = [path.with_name(f"{path.stem}-{number}.svg") for number in range(1, len(pages) + 1)]
    for one in named:
        new_file(str(one), force=force)
    for one, page in zip(named, pages, strict=True):
        save(one, page, force=force)
        click.echo(f"Written to {one}.")
    return [one.name for one in named]
