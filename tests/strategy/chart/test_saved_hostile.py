"""Whatever stands in a saved chart, it is read or refused with a reason; nothing else ever happens."""

from __future__ import annotations

import json
from contextlib import suppress
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from faultree.base.errors import ChartError
from faultree.strategy.chart.value import Chart
from tests.strategy.chart.by_hand import chart, repairs
from tests.walk.small import small

VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-3, 9) | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3),
    max_leaves=5,
)


def _places(data: Any) -> list[tuple[Any, Any]]:
    """Every key of every mapping and list in plain data, with what holds it."""
    pairs = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    found = [(data, key) for key, _ in pairs]
    return found + [one for _, value in pairs for one in _places(value)]


@settings(max_examples=150)
@given(st.data())
def test_a_chart_with_something_else_in_some_place_is_read_or_refused(draw: st.DataObject) -> None:
    """Any value in place of any other, once or twice."""
    data = json.loads(json.dumps(draw.draw(st.sampled_from([chart(), repairs()])).to_dict()))
    for _ in range(draw.draw(st.integers(1, 2))):
        holder, key = draw.draw(st.sampled_from(_places(data)))
        holder[key] = draw.draw(VALUES)
    with suppress(ChartError):
        found = Chart.from_dict(small(), data)
        assert json.loads(json.dumps(found.to_dict()))["digest"] == small().digest
        assert found.root.number == 1


def test_a_chart_as_deep_as_it_is_long_is_read() -> None:
    """A chain of steps longer than Python would recurse."""
    data = json.loads(json.dumps(chart().to_dict()))
    step, end = data["nodes"][3], data["nodes"][4]
    count = 3000
    chain = []
    for number in range(1, count):
        exits = [{**step["exits"][0], "to": number + 1}, {**step["exits"][1], "to": number + 1}]
        chain.append({**step, "number": number, "exits": exits})
    data["nodes"] = [*chain, {**end, "number": count}]
    assert len(Chart.from_dict(small(), data).nodes) == count
