"""The chart that a walk follows: read from a file, or compiled for the reports that are named."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from faultree.base.errors import ChartError
from faultree.cli import complete

if TYPE_CHECKING:
    from faultree.library.model import Library
    from faultree.strategy.chart.value import Chart

COMPILE = ""
"""What the option holds where it stands alone."""

FILE = ".json"
"""How the name of a saved chart ends; whatever else stands behind the option is a report."""

chart_option = click.option(
    "--chart",
    is_flag=False,
    flag_value=COMPILE,
    default=None,
    metavar="[FILE.json]",
    shell_complete=complete.file,
    help="Follow a troubleshooting chart: a saved one, or one compiled for the symptoms named.",
)


def split(given: str | None, symptoms: tuple[str, ...]) -> tuple[str | None, tuple[str, ...]]:
    """The option and the reports, told apart: `--chart stay-down` names a report, `--chart x.json` a file.

    >>> split("stay-down", ("needles-apart",)), split("x.json", ()), split(None, ("a",))
    (('', ('stay-down', 'needles-apart')), ('x.json', ()), (None, ('a',)))
    """
    if given and Path(given).suffix.lower() != FILE:
        return COMPILE, (given, *symptoms)
    return given, symptoms


def to_follow(library: Library, given: str | None, named: Sequence[str], by: tuple[str, ...]) -> Chart | None:
    """The chart to follow; None where none is wished for. ChartError where a file does not read or fit."""
    if given is None:
        return None
    if given == COMPILE:
        if not named:
            raise click.UsageError("name the symptoms, for the chart is compiled for them; or name a saved chart")
        from faultree.cli.chart import compiled

        return compiled(library, named, by=by or None)
    found = load(library, Path(given))
    if named and set(named) != set(found.symptoms):
        raise click.UsageError(f"{given} is a chart of {' '.join(found.symptoms)}; name these symptoms, or none")
    return found


def load(library: Library, path: Path) -> Chart:
    """A saved chart; ChartError with the file and what is wrong with it."""
    from faultree.library.load import content
    from faultree.strategy.chart.handout import read_text
    from faultree.strategy.chart.value import Chart

    text = read_text(str(path), content(path))
    if not isinstance(text, str):
        raise ChartError(f"{text.place}: {text.message}")
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise ChartError(f"{path} is no saved chart: {error}") from error
    if not isinstance(data, dict):
        raise ChartError(f"{path} is no saved chart; 'faultree chart SYMPTOM -o {path.name}' writes one")
    try:
        return Chart.from_dict(library, data)
    except ChartError as error:
        raise ChartError(f"{path}: {error}") from error
