"""`faultree lint`: everything wrong with tree files, with place and remedy, and their own examples run."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING

import click

from faultree.base.clock import system_clock
from faultree.cli.failure import DONE, FAULT
from faultree.cli.options import json_option, library_folder, library_option, print_json

if TYPE_CHECKING:
    from faultree.base.problem import Problem
    from faultree.library.model import Library


@click.command("lint")
@click.argument("path", required=False)
@click.option("--watch", "watched", is_flag=True, help="Check again whenever a file changes; Ctrl-C ends it.")
@json_option
@library_option
@click.pass_context
def command(context: click.Context, path: str | None, watched: bool, as_json: bool, folder: str | None) -> None:
    """Check tree files (a folder or one file): their form, their references, and their examples."""
    place = Path(path) if path else library_folder(folder)
    if watched and as_json:
        raise click.UsageError("--watch writes for a person to read; leave --json away.")
    if watched:
        from faultree.cli.watch import stamp, watch

        watch(lambda: _check(place, as_json=False), lambda: stamp(place), time.sleep, system_clock)
        return
    context.exit(_check(place, as_json))


def _check(place: Path, as_json: bool) -> int:
    """Check once, say what is wrong, and give the exit code."""
    from faultree.library.load import read

    library, problems = read(place)
    if library is not None and not problems:
        problems = _examples(library, place)
    if as_json:
        print_json({"problems": [one.to_dict() for one in problems]})
    else:
        _say(place, library, problems)
    return FAULT if any(one.level == "error" for one in problems) else DONE


def _examples(library: Library, place: Path) -> tuple[Problem, ...]:
    """The examples that do not hold; of one file, its own."""
    from faultree.strategy.examples import run

    found = run(library)
    return tuple(one for one in found if not place.is_file() or one.place.file == str(place))


def _say(place: Path, library: Library | None, problems: tuple[Problem, ...]) -> None:
    for one in problems:
        click.echo(str(one), err=True)
    if problems:
        count = len(problems)
        click.echo(f"{place}: {count} problem{'' if count == 1 else 's'}.", err=True)
    elif library is None:
        click.echo(f"{place}: nothing wrong here, but files beside it do not load; check the whole folder.", err=True)
    else:
        sums = ", ".join(
            f"{len(table)} {name}"
            for name, table in (
                ("systems", library.systems),
                ("causes", library.causes),
                ("items", library.items),
                ("symptoms", library.symptoms),
                ("checks", library.checks),
                ("examples", library.examples),
            )
        )
        click.echo(f"{place}: no problems ({sums}).")
