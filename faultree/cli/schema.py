"""`faultree schema`: the format as a JSON Schema, for completion and help texts in an editor."""

from __future__ import annotations

import json
from pathlib import Path

import click


@click.command("schema")
@click.argument("file", required=False, type=click.Path(dir_okay=False, path_type=Path))
def command(file: Path | None) -> None:
    """Write the format as a JSON Schema, to FILE or to the screen, for use in an editor.

    An editor that knows it completes keys, explains them, and underlines mistakes of form.
    """
    from faultree.library.schema import schema

    # Escapes instead of other signs: whatever a shell does to the text on its way, it stays valid.
    text = json.dumps(schema(), indent=2) + "\n"
    if file is None:
        click.echo(text, nl=False)
        return
    _check(file)
    from faultree.library.store import replace

    replace(file, text)
    click.echo(f"Wrote {file}. The first line of a tree file beside it tells an editor of it:")
    click.echo(f"# yaml-language-server: $schema={file.name}")


def _check(file: Path) -> None:
    """Refuse to replace what is no schema of ours."""
    from faultree.base.errors import FaultreeError
    from faultree.library.schema import TITLE

    if file.exists() and TITLE not in file.read_text(encoding="utf-8", errors="replace"):
        raise FaultreeError(f"{file} is there already, and is no schema of faultree; name another file")
