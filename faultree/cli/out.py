"""Where a command puts a file: on standard output, or on the disk, where nothing is replaced unasked.

One rule for every command: a file that is there stays as it is unless --force is given, and that is said before
the work begins; docs/terminal.md states it. (`chart` and `schema` also replace an earlier one of their own.)
"""

from __future__ import annotations

import os
import textwrap
from collections.abc import Iterable
from pathlib import Path

import click

from faultree.cli.options import Decorator

STANDARD = "-"
"""What stands for standard output in place of a file."""

force_option: Decorator = click.option("--force", is_flag=True, help="Replace a file that is there already.")


def put(text: str, target: str | None, *, force: bool, mark: bool = False) -> bool:
    """Write a text to a file, or to standard output where there is none; says whether it was a file.

    A file that is there stays as it is without `force` (FaultreeError). With `mark` a file with other than
    plain ASCII signs begins with the mark by which a spreadsheet knows UTF-8.
    """
    if target is None or target == STANDARD:
        # As bytes: whatever the terminal's encoding, what is piped on is UTF-8 as the text may say of itself.
        click.echo(text.encode("utf-8"), nl=False)
        return False
    if mark and not text.isascii():
        text = f"\ufeff{text}"
    save(Path(target), text, force=force)
    return True


def say(notes: Iterable[str]) -> None:
    """Write notes to standard error, each as a paragraph of its own within 80 columns."""
    for note in notes:
        click.echo(textwrap.fill(note, 80, break_long_words=False, break_on_hyphens=False), err=True)


def typed(path: Path) -> str:
    """A path as it is typed in a command.

    >>> typed(Path("my trees")), typed(Path("trees"))
    ('"my trees"', 'trees')
    """
    return f'"{path}"' if " " in str(path) else str(path)


def free(target: str | Path | None, *, force: bool) -> None:
    """Refuse, before any work, a file that could not be written behind it: it is there, or its folder is not.

    Raises FaultreeError with the remedy; None and standard output are always free.
    """
    from faultree.base.errors import FaultreeError

    if target is None or str(target) == STANDARD:
        return
    path = Path(target)
    if path.exists() and not path.is_file():
        raise FaultreeError(f"{path} is no ordinary file, and is left as it is; name another one")
    if os.path.lexists(path) and not force:
        raise FaultreeError(f"{path} is there already, and is left as it is; name another file or add --force")
    if not path.parent.is_dir():
        raise FaultreeError(f"{path} cannot be written: there is no folder {path.parent}; make it, or name another")


def save(path: Path, content: str | bytes, *, force: bool) -> None:
    """Write a file whole; FaultreeError where one is there already and `force` is not given, or where it cannot be."""
    from faultree.base.errors import FaultreeError
    from faultree.library.store import create, replace

    free(path, force=force)
    try:
        (replace if force else create)(path, content)
    except OSError as error:
        raise FaultreeError(f"{path} cannot be written: {error.strerror or error}") from error
