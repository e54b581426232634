"""`faultree tidy`: tree files in one layout, with their comments kept and their meaning unchanged."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import click

from faultree.cli import complete
from faultree.cli.failure import DONE, FAULT
from faultree.cli.options import json_option, library_option, print_json, waiting
from faultree.cli.place import HERE

if TYPE_CHECKING:
    from faultree.base.problem import Problem
    from faultree.terminal.progress import Waiting


class Tidied(NamedTuple):
    """One file: what it says now, what it should say (None where it is left alone), and why not."""

    path: Path
    before: str
    after: str | None
    problems: tuple[Problem, ...]

    @property
    def changes(self) -> bool:
        """Whether it is to be written anew."""
        return self.after is not None and self.after != self.before


@click.command("tidy")
@click.argument("path", required=False, shell_complete=complete.file)
@click.option("--check", is_flag=True, help="Only show what would change; exit code 1 if anything would.")
@json_option
@library_option
@click.pass_context
def command(context: click.Context, path: str | None, check: bool, as_json: bool, folder: str | None) -> None:
    """Lay tree files out in one way (a folder or one file); comments and meaning stay.

    Keys come in the order of the format. A file with mistakes of form is left alone.
    """
    place = Path(path or folder or context.find_root().obj or HERE)
    with waiting("Laying the tree files out") as at:
        files = list(_tidied(place, at))
    changed = [one for one in files if one.changes]
    problems = [problem for one in files for problem in one.problems]
    for one in () if check else changed:
        _save(one)
    if as_json:
        names = [str(one.path) for one in changed]
        print_json({"changed": names, "problems": [problem.to_dict() for problem in problems]})
    else:
        _say(place, files, check)
    context.exit(FAULT if problems or (check and changed) else DONE)


def _tidied(place: Path, at: Waiting) -> Iterator[Tidied]:
    """Every tree file at a place; LibraryError where there is none."""
    from faultree.base.errors import LibraryError
    from faultree.library.load import content, read, tree_files
    from faultree.library.writer import write

    paths = tree_files(place)
    if not paths:
        raise LibraryError(read(place).problems)
    for number, path in enumerate(paths):
        at(f"Laying out {path.name}", number, len(paths))
        found = content(path)
        done = write(found, str(path))
        before = found.decode("utf-8", "replace") if isinstance(found, bytes) else ""
        yield Tidied(path, before, done.text, done.problems)


def _save(one: Tidied) -> None:
    from faultree.library.store import replace

    assert one.after is not None
    replace(one.path, one.after)


def _say(place: Path, files: list[Tidied], check: bool) -> None:
    for one in files:
        for problem in one.problems:
            click.echo(str(problem), err=True)
        if one.changes and check:
            click.echo(_difference(one), nl=False)
        elif one.changes:
            click.echo(f"{one.path}: laid out anew.")
    left = sum(one.after is None for one in files)
    changed = sum(one.changes for one in files)
    parts = [
        f"{changed} {'to be laid' if check else 'laid'} out anew",
        f"{len(files) - changed - left} as they should be",
    ]
    if left:
        parts.append(f"{left} left alone until {'its' if left == 1 else 'their'} mistakes are mended")
    click.echo(f"{place}: {', '.join(parts)}.", err=bool(left))


def _difference(one: Tidied) -> str:
    """What would change in a file, as lines taken out and put in."""
    assert one.after is not None
    before, after = (text.splitlines(keepends=True) for text in (one.before, one.after))
    lines = difflib.unified_diff(before, after, str(one.path), f"{one.path} (tidy)")
    return "".join(line if line.endswith("\n") else f"{line}\n" for line in lines)
