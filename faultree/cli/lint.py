"""`faultree lint`: everything wrong with tree files, in form and in meaning, and their own examples run."""

from __future__ import annotations

import time
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING

import click

from faultree.base.clock import system_clock
from faultree.base.words import listing
from faultree.cli import complete
from faultree.cli.failure import DONE, FAULT
from faultree.cli.options import json_option, library_option, print_json, waiting
from faultree.cli.place import library_folder

if TYPE_CHECKING:
    from faultree.base.problem import Level, Problem
    from faultree.library.model import Library
    from faultree.strategy.lint.run import Step

FORM = frozenset({"file", "syntax", "shape", "value", "reference", "cycle"})
"""The rules of the reader, which no author looks up or silences: their names are not shown."""


@click.command("lint")
@click.argument("path", required=False, shell_complete=complete.file)
@click.option("--watch", "watched", is_flag=True, help="Check again whenever a file changes; Ctrl-C ends it.")
@json_option
@library_option
@click.pass_context
def command(context: click.Context, path: str | None, watched: bool, as_json: bool, folder: str | None) -> None:
    """Check tree files (a folder or one file): their form, their meaning, and their examples."""
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

    with waiting("Checking the tree files") as at:
        library, problems = read(place)
        problems = tuple(sorted((*problems, *_meaning(place, library, at)), key=_order))
    if as_json:
        print_json({"problems": [one.to_dict() for one in problems]})
    else:
        _say(place, library, problems)
    return FAULT if any(one.level == "error" for one in problems) else DONE


def _meaning(place: Path, library: Library | None, at: Step) -> tuple[Problem, ...]:
    """What the rules of meaning find, of one file its own; of a library that does not load, in its whole files."""
    from faultree.library.load import read_part
    from faultree.strategy.lint.run import lint

    known = library or read_part(place)
    found = lint(known, whole=library is not None, at=at) if known is not None else ()
    return tuple(one for one in found if place.is_dir() or Path(one.place.file) == place)


def _order(problem: Problem) -> tuple[str, int, int]:
    return problem.place.file, problem.place.line, problem.place.column


def _say(place: Path, library: Library | None, problems: tuple[Problem, ...]) -> None:
    for one in problems:
        click.echo(str(one) if one.rule in FORM else f"{one} [{one.rule}]", err=True)
    if problems:
        click.echo(f"{place}: {_sum(problems)}.", err=True)
    elif library is None:
        click.echo(f"{place}: nothing wrong here, but files beside it do not load; check the whole folder.", err=True)
    else:
        sums = ", ".join(
            f"{len(table)} {name}{'' if len(table) == 1 else 's'}"
            for name, table in (
                ("system", library.systems),
                ("cause", library.causes),
                ("item", library.items),
                ("symptom", library.symptoms),
                ("check", library.checks),
                ("example", library.examples),
            )
        )
        click.echo(f"{place}: no problems ({sums}).")


def _sum(problems: tuple[Problem, ...]) -> str:
    """How many there are of each level, in words."""
    counts = Counter(one.level for one in problems)
    words: tuple[tuple[Level, str, str], ...]
    words = (
        ("error", "problem", "problems"),
        ("warning", "warning", "warnings"),
        ("advice", "piece of advice", "pieces of advice"),
    )
    return listing(
        f"{counts[level]} {one if counts[level] == 1 else many}" for level, one, many in words if counts[level]
    )
