"""Bars are as long as their figures, each has a text, and no label becomes markup."""

from __future__ import annotations

import re

from defusedxml.ElementTree import fromstring

from faultree.reports.plots import Row, bars, columns

HOSTILE = "<script>\"&'"


def lengths(svg: str) -> list[float]:
    return [float(one) for one in re.findall(r'<rect [^>]*?width="([\d.]+)"', svg)]


def test_bars_are_in_proportion() -> None:
    first, half = lengths(bars("t", [Row("a", (1.0,), ("100 %",)), Row("b", (0.5,), ("50 %",))], top=1.0))
    assert round(first / half, 3) == 2.0
    assert len(lengths(bars("t", [Row("a", (3.0, 2.0), ("3", "2"))]))) == 2


def test_every_plot_is_sound_and_names_each_figure() -> None:
    for svg in (
        bars(HOSTILE, [Row(HOSTILE * 10, (0.0,), (HOSTILE,))]),
        columns(HOSTILE, [Row(HOSTILE, (2.0,), ("2",))]),
    ):
        root = fromstring(svg)
        assert root.attrib["aria-label"] == HOSTILE
        assert HOSTILE in "".join(root.itertext())


def test_a_plot_of_nothing_is_still_one() -> None:
    for svg in (bars("t", []), columns("t", []), columns("t", [Row("a", (0.0,), ("0",))])):
        assert fromstring(svg).tag.endswith("svg")
