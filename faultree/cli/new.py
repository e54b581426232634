"""`faultree new`: a first tree file that loads, with comments that teach the format."""

from __future__ import annotations

from pathlib import Path

import click

from faultree.cli import complete
from faultree.cli.out import typed


@click.command("new")
@click.argument("file", shell_complete=complete.file)
@click.option("--title", help="What the system is called. Default: made from the name of the file.")
@click.option("--empty", "bare", is_flag=True, help="Without the example: only the head, and the sections to fill.")
def command(file: str, title: str | None, bare: bool) -> None:
    """Write a small tree file to begin with; it loads, and its comments explain each section.

    The name of FILE becomes the id of the system. A file that is there already is never replaced.
    """
    path, name = _path(file)
    from faultree.library.load import load_texts
    from faultree.library.starter import SCHEMA, empty, starter, title_from
    from faultree.library.store import create

    text = (empty if bare else starter)((title or "").strip() or title_from(name))
    load_texts({str(path): text})  # a title can hold what no title may
    made = not path.parent.exists()
    path.parent.mkdir(parents=True, exist_ok=True)
    create(path, text)
    click.echo(f"Wrote {path}, the system '{path.stem}'" + (f", in the new folder {path.parent}." if made else "."))
    click.echo(f"Check it while you write:        faultree lint --watch {typed(path)}")
    click.echo(f"Help and completion in editors:  faultree schema {typed(path.parent / SCHEMA)}")
    if not bare:
        click.echo(
            f"Try it:                          faultree rank --library {typed(path.parent)} {path.stem}/stays-cold"
        )


def _path(file: str) -> tuple[Path, str]:
    """Where the file goes, and the name it was given; errors where there can be none."""
    from faultree.base.errors import FaultreeError
    from faultree.library.documents import ENDINGS, system_of
    from faultree.library.starter import id_from

    given = Path(file)
    name = system_of(given.name)
    ending = given.suffix if given.suffix.lower() in ENDINGS else ENDINGS[0]
    try:
        path = given.with_name(f"{id_from(name)}{ending}")
    except ValueError as error:
        raise FaultreeError(str(error)) from error
    for other in (path, *(path.with_suffix(one) for one in ENDINGS)):
        if other.exists() or other.is_symlink():
            raise FaultreeError(f"{other} is there already, and is left as it is; give the new system another name")
    return path, name
