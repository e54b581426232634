"""Published optimal sequences of tests and of repairs, met by compiled charts.

Sources: Pattipati and Alexandridis, "Application of heuristic search and information theory to sequential
fault diagnosis", IEEE Trans. SMC 20(4), 1990 (data from memory; dynamic programming gives the recalled optimum of
2.18 tests); the order of repairs by probability over cost for a single fault (Kadane and Simon, "Optimal
strategies for a class of constrained sequential problems", Annals of Statistics 5(2), 1977; the classical
rule from memory) with p = .5 .3 .2 and costs 12 5 4.
"""

from __future__ import annotations

import pytest

from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.strategy.chart.assemble import Assembly
from faultree.strategy.chart.bounds import huffman
from faultree.strategy.chart.compile import compile_chart, posed_chart
from faultree.strategy.chart.policies import Followed, Rules
from faultree.strategy.chart.search import Search
from faultree.strategy.chart.space import Space
from faultree.strategy.chart.value import Chart, End, Step
from tests.published.test_repair_order import LIBRARY as REPAIRS
from tests.published.test_test_sequencing import LIBRARY as TESTS


def read(text: str) -> Library:
    """A library of one file `s`."""
    return load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{text}"})


def matrix() -> Library:
    """The published matrix at one minute a test, so that minutes count tests."""
    return read(TESTS.replace("ask: Does it fail?", "ask: Does it fail?, minutes: 1"))


def by_bits() -> Chart:
    """Most bits first, worked out on the same matrix by the same code."""
    posed = posed_chart(matrix(), ["reported"], "cause", None, 0.0, 0.0)
    space = Space(posed.task)
    return Assembly(posed, Followed(space, Rules(Search(space)).by_bits)).chart(0.0, stopped=False)


def first_of(chart: Chart) -> str:
    """What the chart does first."""
    assert isinstance(chart.root, Step)
    return chart.root.target


def test_least_expected_number_of_tests() -> None:
    chart = compile_chart(matrix(), ["reported"], goal="cause")
    assert chart.optimal
    assert chart.expected_minutes == pytest.approx(2.18, abs=1e-12)
    assert chart.expected_checks == pytest.approx(2.18, abs=1e-12)
    assert first_of(chart) == "s/t2"


def test_every_state_has_an_end_of_its_own() -> None:
    """The six states, "nothing is wrong" among them, end apart and with their published chances."""
    chart = compile_chart(matrix(), ["reported"], goal="cause")
    ends = {one.causes[0].cause if one.causes else "": one for one in chart if isinstance(one, End)}
    expected = {"": 0.70, "s/s1": 0.01, "s/s2": 0.02, "s/s3": 0.10, "s/s4": 0.05, "s/s5": 0.12}
    assert {name: one.probability for name, one in ends.items()} == pytest.approx(expected, abs=1e-12)
    assert all(len(one.causes) < 2 for one in ends.values())


def test_greedy_by_bits_takes_more() -> None:
    """The comparison is real: the same code on the same matrix gives the published 2.86, beginning with t1."""
    chart = by_bits()
    assert chart.expected_minutes == pytest.approx(2.86, abs=1e-12)
    assert first_of(chart) == "s/t1"


def test_the_huffman_bound_of_the_published_states() -> None:
    assert huffman([0.70, 0.01, 0.02, 0.10, 0.05, 0.12]) == pytest.approx(1.59, abs=1e-12)


def test_repairs_alone_go_by_probability_over_cost() -> None:
    """Order 2, 3, 1 at 13.8."""
    chart = compile_chart(read(REPAIRS), ["reported"], goal="restore")
    assert chart.optimal
    assert chart.expected_minutes == pytest.approx(13.8, abs=1e-5)
    assert [node.target for node in chart if isinstance(node, Step)] == ["s/part-2", "s/part-3", "s/part-1"]
