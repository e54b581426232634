"""Ends that call for the same thing become one on a page, and the figures stay true."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.strategy.chart.merge import merged, stands_for
from faultree.strategy.chart.value import Chart, End, Open, Step
from tests.strategy.chart.by_hand import RELAY, WIRE, chart


def _twice(*, cut: bool = False, ending: str = "open") -> Chart:
    """The chart with a second end that names the same units, after number 4."""
    one = chart()
    node = one.nodes[4]
    assert isinstance(node, Step)
    last = one.nodes[6]
    assert isinstance(last, End)
    first = replace(last, probability=0.2, cut=cut)
    causes = (replace(RELAY, probability=0.6), replace(WIRE, probability=0.4))
    second = replace(first, number=7, probability=0.3, causes=causes, ending=ending, manual=("SM 33-40",))  # type: ignore[arg-type]  # one of the words
    step = replace(node, exits=(node.exits[0], replace(node.exits[1], to=7)))
    return replace(one, nodes={**one.nodes, 4: step, 6: first, 7: second})


def test_alike_ends_become_the_first_of_them() -> None:
    """Probabilities add up; a cause is as likely as it is on average over the cases that end there."""
    found = merged(_twice())
    assert set(found.nodes) == {1, 2, 3, 4, 5, 6}
    end = found.nodes[6]
    assert isinstance(end, End)
    assert end.probability == pytest.approx(0.5)
    assert [one.cause for one in end.causes] == [RELAY.cause, WIRE.cause]
    wanted = [0.2 / 0.5 * 0.8 + 0.3 / 0.5 * 0.6, 0.2 / 0.5 * 0.2 + 0.3 / 0.5 * 0.4]
    assert [one.probability for one in end.causes] == pytest.approx(wanted)
    assert end.units == ("signal/relay", "signal/wire-broken")
    assert set(end.manual) == {"SM 33-42", "SM 33-49", "SM 33-40"}


def test_ends_that_say_different_things_stay() -> None:
    """At one of them perhaps nothing is wrong, and the operational check comes first."""
    one = _twice()
    last = one.nodes[7]
    assert isinstance(last, End)
    assert set(merged(replace(one, nodes={**one.nodes, 7: replace(last, say="Look again.")})).nodes) == set(one.nodes)


def test_every_way_still_leads_somewhere() -> None:
    """What led to the others leads to the one that stands for them."""
    one = _twice()
    step = merged(one).nodes[4]
    assert isinstance(step, Step)
    assert [way.to for way in step.exits] == [5, 6]
    assert stands_for(one, 7) == 6
    assert stands_for(one, 6) == 6


@pytest.mark.parametrize("one", [_twice(cut=True), _twice(ending="continue")], ids=["cut off", "another ending"])
def test_ends_that_differ_stay_apart(one: Chart) -> None:
    """What was cut off is a case of its own, and so is another ending, above all one that somebody else takes up."""
    assert set(merged(one).nodes) == set(one.nodes)


def test_a_chart_without_alike_ends_stays_as_it_is() -> None:
    one = chart()
    assert dict(merged(one).nodes) == dict(one.nodes)


def test_a_cause_that_only_one_of_them_knows_is_kept() -> None:
    """With its share of all cases that end there."""
    one = _twice()
    node = one.nodes[7]
    assert isinstance(node, End)
    other = replace(node, causes=(*node.causes, Open("signal/relay-closed", "signal/relay", 0.1)))
    end = merged(replace(one, nodes={**one.nodes, 7: other})).nodes[6]
    assert isinstance(end, End)
    assert {found.cause: found.probability for found in end.causes}["signal/relay-closed"] == pytest.approx(0.06)


def test_open_ends_with_another_order_stay_apart() -> None:
    """What is put right first is not the same."""
    one = _twice()
    node = one.nodes[7]
    assert isinstance(node, End)
    turned = replace(node, units=tuple(reversed(node.units)))
    assert 7 in merged(replace(one, nodes={**one.nodes, 7: turned})).nodes


def test_found_ends_are_one_whatever_the_order() -> None:
    """Two items that are bad together are put right together; likeliest first, as it is over all of them."""
    one = _twice(ending="found")
    first, second = one.nodes[6], one.nodes[7]
    assert isinstance(first, End)
    assert isinstance(second, End)
    turned = replace(second, units=tuple(reversed(second.units)))
    found = merged(replace(one, nodes={**one.nodes, 6: replace(first, ending="found"), 7: turned})).nodes[6]
    assert isinstance(found, End)
    assert found.units == ("signal/relay", "signal/wire-broken")
