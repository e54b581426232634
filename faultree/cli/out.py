"""Where a command puts a file: on standard output, or on the disk, where nothing is replaced unasked."""

from __future__ import annotations

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


def save(path: Path, text: str, *, force: bool) -> None:
    """Write a file whole; FaultreeError where one is there already and `force` is not given."""
    from faultree.base.errors import FaultreeError
    from faultree.library.store import create, replace

    if force and path.exists() and not path.is_file():
        raise FaultreeError(f"{path} is no ordinary file, and is left as it is; name another one")
    if force:
        replace(path, text)
        return
    try:
        create(path, text)
    except FileExistsError as error:
        raise FaultreeError(
            f"{path} is there already, and is left as it is; name another file or add --force"
        ) from error
