"""Bars are as long as their figures, each has a text, and no label becomes markup."""

from __future__ import annotations

import re

from defusedxml.ElementTree import fromstring

from faultree.diagrams.metrics import width
from faultree.reports.plots import WIDTH, Row, bars, columns

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


def test_a_long_label_is_shown_whole_on_lines_of_its_own() -> None:
    label = "hold-down valve of the left outboard flight panel and its connector in the wing"
    svg = bars("t", [Row(label, (1.0,), ("100 % (5 of 5)",))])
    texts = [one.text or "" for one in fromstring(svg).iter() if one.tag.endswith("}text")]
    assert " ".join(texts[:-1]) == label
    assert "…" not in svg


def test_nothing_of_a_plot_lies_outside_it() -> None:
    """The longest bar leaves room for its figure, and twelve months for every label."""
    svg = bars("t", [Row("a", (1.0,), ("100 % (128 of 128)",))], top=1.0)
    (x,) = [float(one) for one in re.findall(r'x="([\d.]+)" y="[\d.]+" class="figure"', svg)]
    assert x + width("100 % (128 of 128)", 11) <= WIDTH
    months = [Row(f"2031-{month:02}", (1.0,), ("17",)) for month in range(1, 13)]
    svg = columns("t", months)
    middles = [float(one) for one in re.findall(r'x="([\d.]+)" y="124.0" text-anchor="middle"', svg)]
    assert len(middles) == 12
    assert max(middles) + 15 <= WIDTH


def test_a_year_is_named_once() -> None:
    svg = columns("t", [Row("2031-11", (1.0,), ("1",)), Row("2031-12", (1.0,), ("1",)), Row("2032-01", (1.0,), ("1",))])
    texts = [one.text or "" for one in fromstring(svg).iter() if one.tag.endswith("}text")]
    assert texts.count("2031") == texts.count("2032") == 1
    assert {"11", "12", "01"} <= set(texts)
