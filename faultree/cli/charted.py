"""The chart that a walk follows: read from a file, or compiled for the reports that are named."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from faultree.base.errors import ChartError
from faultree.cli import complete
from faultree.cli.out import say

if TYPE_CHECKING:
    from faultree.library.model import Library
    from faultree.strategy.chart.value import Chart

COMPILE = ""
"""What the option holds where it stands alone."""

FILE = ".json"
"""How the name of a saved chart ends; whatever else stands behind the option is a report."""

WITHOUT = (
    "{} was compiled with history (“{}”); this walk ranks by the author's figures alone. With --history it ranks as "
    "the chart does."
)
"""What is said where a chart rests on history and the walk along it does not."""

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
    before = _plain(Path(given)).get("history")
    words = str(before.get("words", "") if isinstance(before, dict) else before or "")
    if words and not library.history:
        say([WITHOUT.format(given, words.partition(":")[0])])
    if named and set(named) != set(found.symptoms):
        raise click.UsageError(f"{given} is a chart of {' '.join(found.symptoms)}; name these symptoms, or none")
    return found


def reports(library: Library, given: str | None) -> list[str]:
    """The reports of a saved chart, as far as the library holds them; none where no file is named."""
    named = _plain(Path(given)).get("symptoms") if given else None
    return [one for one in named if isinstance(one, str) and one in library.symptoms] if isinstance(named, list) else []


def load(library: Library, path: Path) -> Chart:
    """A saved chart; ChartError with the file and what is wrong with it."""
    from faultree.strategy.chart.value import Chart

    try:
        return Chart.from_dict(library, _plain(path))
    except ChartError as error:
        raise ChartError(f"{path}: {error}") from error


def _plain(path: Path) -> dict[str, object]:
    """What a chart's file holds; ChartError where that is no plain data."""
    from faultree.library.load import content
    from faultree.strategy.chart.handout import read_text

    text = read_text(str(path), content(path))
    if not isinstance(text, str):
        raise ChartError(f"{text.place}: {text.message}")
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise ChartError(f"{path} is no saved chart: {error}") from error
    if not isinstance(data, dict):
        raise ChartError(f"{path} is no saved chart; 'faultree chart SYMPTOM -o {path.name}' writes one")
    return data
