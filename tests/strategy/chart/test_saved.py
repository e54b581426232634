"""A saved chart comes back as it was; one that is broken or belongs to other tree files is refused with the reason."""

from __future__ import annotations

import json
from collections.abc import Callable
from copy import deepcopy
from dataclasses import fields, replace
from typing import Any

import pytest

from faultree.base.errors import ChartError
from faultree.library.load import load_texts
from faultree.strategy.chart.value import Chart, End, Step
from tests.strategy.chart.by_hand import chart, repairs
from tests.walk.small import SIGNAL, small


def _data() -> dict[str, Any]:
    return deepcopy(json.loads(json.dumps(chart().to_dict())))


@pytest.mark.parametrize("one", [chart(), repairs()], ids=["checks", "repairs"])
def test_a_chart_comes_back_through_json_as_it_was(one: Chart) -> None:
    """Every field of every node."""
    back = Chart.from_dict(small(), json.loads(json.dumps(one.to_dict())))
    assert dict(back.nodes) == dict(one.nodes)
    for field in fields(Chart):
        if field.name != "nodes":
            assert getattr(back, field.name) == getattr(one, field.name)


def test_plain_data_has_the_field_names_of_the_values() -> None:
    """What a program reads is what the Python value gives, and which kind a node is."""
    data = _data()
    assert {one.name for one in fields(Chart)} | {"chart", "optimal"} == set(data)
    names = {"step": {one.name for one in fields(Step)}, "end": {one.name for one in fields(End)}}
    assert all(set(node) == names[node["kind"]] | {"kind"} for node in data["nodes"])


def test_a_chart_of_other_tree_files_is_refused_with_the_reason() -> None:
    """A caution that was added since would be missing on it; so it says how to compile it anew."""
    other = load_texts({"signal.yaml": SIGNAL.replace("The terminals are live.", "All terminals are live.")})
    with pytest.raises(ChartError, match=r"compiled from other tree files.*faultree chart signal/dark"):
        Chart.from_dict(other, chart().to_dict())


def _break(path: str, value: object) -> Callable[[dict[str, Any]], None]:
    def act(data: dict[str, Any]) -> None:
        *way, last = [int(one) if one.isdigit() else one for one in path.split(".")]
        inner: Any = data
        for one in way:
            inner = inner[one]
        inner[last] = value

    return act


@pytest.mark.parametrize(
    ("path", "value", "message"),
    [
        ("chart", 2, "no saved chart"),
        ("goal", "guess", "the chart: 'goal' is 'guess'; it must be one of cause, item or restore"),
        ("by", ["line", "pilot"], "'by' is .*; it must be a list of crew, line and shop"),
        ("symptoms", ["signal/dim"], "names the unknown symptom 'signal/dim'"),
        ("expected_minutes", -1, "'expected_minutes' is '-1'; it must be a number of 0 or more"),
        ("expected_minutes", True, "'expected_minutes' is 'True'"),
        ("worst_minutes", float("inf"), "'worst_minutes' is 'inf'"),
        ("cut", 2, "'cut' is '2'; it must be a number from 0 to 1"),
        ("nodes", {}, "'nodes' is '{}'; it must be a list"),
        ("nodes", [], "node 1, where a chart begins, is missing"),
        ("nodes.0", 7, "entry 1 of 'nodes' is '7'; it must be a mapping"),
        ("nodes.0.kind", "loop", "node 1: 'kind' is 'loop'; it must be one of step or end"),
        ("nodes.0.number", "one", "'number' is 'one'; it must be a whole number"),
        ("nodes.1.number", 1, "node 1 stands there twice"),
        ("nodes.0.target", "signal/clock", "node 1: 'target' names the unknown check 'signal/clock'; did you mean"),
        ("nodes.0.title", None, "node 1: 'title' is 'None'; it must be a text"),
        ("nodes.1.cautions", ["signal/dead"], "node 2: 'cautions' names the unknown caution 'signal/dead'"),
        ("nodes.1.cautions", "signal/live", "must be a list of texts"),
        ("nodes.3.opens", ["signal/hatch"], "node 4: 'opens' names the unknown access 'signal/hatch'"),
        ("nodes.0.exits.0.answer", "bang", "node 1, answer 1: 'answer' is 'bang'; it must be one of silence or click"),
        ("nodes.0.exits.0.probability", 0.1, "node 1: the probabilities of its answers add up to 0.7"),
        ("nodes.0.exits.0.to", 99, "node 1: the answer 'silence' leads to node 99, which is missing"),
        ("nodes.3.exits.1.to", 1, "the chart would never end: its answers lead from node"),
        ("nodes.0.exits.0.to", 4, "no answer leads to node 2"),
        ("nodes.2.units", ["signal/bulb"], "node 3: 'units' names the unknown item or cause 'signal/bulb'"),
        ("nodes.2.causes.0.cause", "signal/gone", "node 3, causes 1: 'cause' names the unknown cause"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_named(path: str, value: object, message: str) -> None:
    """The node, the field, the value, and what it must be."""
    data = _data()
    _break(path, value)(data)
    with pytest.raises(ChartError, match=message):
        Chart.from_dict(small(), data)


def test_a_field_that_is_missing_is_named() -> None:
    """Not every mistake is a wrong value."""
    data = _data()
    del data["nodes"][0]["minutes"]
    with pytest.raises(ChartError, match="node 1: 'minutes' is missing; it must be a number of 0 or more"):
        Chart.from_dict(small(), data)


def test_the_same_answer_twice_is_refused() -> None:
    """Nobody could say where it leads."""
    data = _data()
    data["nodes"][0]["exits"][1]["answer"] = "silence"
    with pytest.raises(ChartError, match="node 1: an answer stands there twice"):
        Chart.from_dict(small(), data)


def test_what_one_writes_beside_it_is_left_alone() -> None:
    """A notice or a comparison in the same file does no harm."""
    data = {**_data(), "notice": "x", "against": []}
    assert Chart.from_dict(small(), data).goal == "item"


def test_rounding_above_certainty_is_taken_as_certain() -> None:
    """1.0000000002 is what a sum of floats may give."""
    one = chart()
    node = one.nodes[3]
    assert isinstance(node, End)
    off = replace(one, nodes={**one.nodes, 3: replace(node, probability=1.0 + 2e-10)})
    found = Chart.from_dict(small(), off.to_dict()).nodes[3]
    assert found.probability == 1.0
