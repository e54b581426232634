"""The Boolean graph: equal things are one node, gates mean what the format says, inputs come first."""

from __future__ import annotations

from collections.abc import Callable, Sequence, Set
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faultree.library.model import Gate, GateKind, Operand, Ref, Signal, refs
from faultree.logic.graph import FALSE, TRUE, Graph, build, definition_order, negate, operands
from faultree.logic.simulate import evaluate, value_of
from tests.oracles.random_libraries import RandomLibrary, libraries
from tests.oracles.tree_text import Plain, document
from tests.published.small import opened

NAMES = ("a", "b", "c", "d")


def fresh() -> Graph:
    """A graph that holds four causes and nothing else."""
    graph = Graph()
    for name in NAMES:
        graph.name("cause", name)
    return graph


def gate(kind: GateKind, *inner: str | Operand, count: int = 0) -> Gate:
    """A gate of the model; names stand for references."""
    return Gate(kind, tuple(Ref(one) if isinstance(one, str) else one for one in inner), count)


def holds(operand: Operand, present: frozenset[str]) -> bool:
    """The value of an operand by the format's own table of gates."""
    if isinstance(operand, Ref):
        return operand.id in present
    count = sum(holds(one, present) for one in operand.operands)
    tables = {
        "all": count == len(operand.operands),
        "any": count >= 1,
        "not": count == 0,
        "none": count == 0,
        "at_least": count >= operand.count,
        "one_of": count == 1,
    }
    return tables[operand.kind]


def sets(names: Sequence[str] = NAMES) -> list[frozenset[str]]:
    """Every set of these names."""
    return [
        frozenset(name for name, here in zip(names, bits, strict=True) if here)
        for bits in product((False, True), repeat=len(names))
    ]


def table(graph: Graph, literal: int) -> list[bool]:
    """The truth table of a literal over the four causes."""
    return [value_of(evaluate(graph, {}, present), literal) for present in sets()]


@pytest.mark.parametrize("size", [1, 2, 3, 4])
@pytest.mark.parametrize("kind", ["all", "any", "none", "one_of", "at_least"])
def test_a_gate_has_its_truth_table(kind: GateKind, size: int) -> None:
    """Every gate of the format, with one to four operands; a vote with every count that it can have."""
    for count in range(1, size + 1) if kind == "at_least" else [0]:
        operand = gate(kind, *NAMES[:size], count=count)
        graph = fresh()
        assert table(graph, graph.literal_of(operand)) == [holds(operand, present) for present in sets()]


def test_not_turns_its_operand_around() -> None:
    graph = fresh()
    assert table(graph, graph.literal_of(gate("not", "a"))) == ["a" not in present for present in sets()]


@pytest.mark.parametrize(("kind", "value"), [("all", TRUE), ("any", FALSE), ("none", TRUE)])
def test_a_gate_of_nothing(kind: str, value: int) -> None:
    """`all` of nothing is true, `any` of nothing is false, and so none of nothing is true."""
    assert fresh().gate(kind, []) == value


def nested() -> st.SearchStrategy[Operand]:
    """Operands of any shape over the four causes; the same cause may come up more than once."""

    def over(inner: st.SearchStrategy[Operand]) -> st.SearchStrategy[Operand]:
        several = st.lists(inner, min_size=1, max_size=4).map(tuple)
        kinds: st.SearchStrategy[GateKind] = st.sampled_from(["all", "any", "none", "one_of"])
        votes = several.flatmap(lambda some: st.integers(1, len(some)).map(lambda count: Gate("at_least", some, count)))
        return st.builds(Gate, kinds, several) | inner.map(lambda one: Gate("not", (one,))) | votes

    return st.recursive(st.sampled_from(NAMES).map(Ref), over, max_leaves=12)


@settings(max_examples=120)
@given(nested())
def test_reducing_an_operand_keeps_its_truth_table(operand: Operand) -> None:
    """Negations pushed by De Morgan, constants, doubled and opposed inputs: the meaning stays."""
    graph = fresh()
    literal = graph.literal_of(operand)
    assert table(graph, literal) == [holds(operand, present) for present in sets()]


SAME = [
    (gate("any", "a", "b"), gate("any", "b", "a")),
    (gate("any", "a", "b"), gate("any", "a", "b", "a")),
    (gate("all", "a", "b"), gate("none", gate("not", "a"), gate("not", "b"))),
    (gate("not", gate("all", "a", "b")), gate("any", gate("not", "a"), gate("not", "b"))),
    (gate("none", "a", "b"), gate("not", gate("any", "a", "b"))),
    (gate("at_least", "a", "b", "c", count=1), gate("any", "c", "b", "a")),
    (gate("at_least", "a", "b", "c", count=3), gate("all", "a", "b", "c")),
    (gate("at_least", "c", "a", "b", count=2), gate("at_least", "a", "b", "c", count=2)),
    (gate("one_of", "a", "b"), gate("one_of", "b", "a")),
    (gate("not", gate("not", "a")), Ref("a")),
    (gate("any", "a"), gate("all", "a")),
    (gate("one_of", "a"), Ref("a")),
]


@pytest.mark.parametrize(("one", "other"), SAME)
def test_two_ways_of_writing_the_same_are_one_node(one: Operand, other: Operand) -> None:
    """Equal nodes are shared, and De Morgan's laws bring the gates to common ground."""
    graph = fresh()
    literal = graph.literal_of(one)
    size = len(graph.nodes)
    assert graph.literal_of(other) == literal
    assert len(graph.nodes) == size


def test_different_gates_are_different_nodes() -> None:
    """What is shared must really be equal: kinds, counts and negations tell nodes apart."""
    graph = fresh()
    different: list[Operand] = [
        gate("any", "a", "b"),
        gate("all", "a", "b"),
        gate("one_of", "a", "b"),
        gate("any", "a", gate("not", "b")),
        gate("at_least", "a", "b", "c", count=2),
        gate("one_of", "a", "b", "c"),
        gate("any", "a", "b", "c"),
    ]
    literals = [graph.literal_of(one) for one in different]
    assert len(set(literals)) == len(different)
    assert len({tuple(table(graph, one)) for one in literals}) == len(different)


def test_a_thing_or_its_opposite_is_settled() -> None:
    graph = fresh()
    size = len(graph.nodes)
    assert graph.literal_of(gate("any", "b", "a", gate("not", "a"))) == TRUE
    assert graph.literal_of(gate("all", "b", "a", gate("not", "a"))) == FALSE
    assert len(graph.nodes) == size


def test_the_graph_grows_and_nothing_in_it_changes() -> None:
    graph = fresh()
    graph.literal_of(gate("any", "a", "b"))
    before = list(graph.nodes)
    graph.literal_of(gate("at_least", "a", "b", gate("all", "c", "d"), count=2))
    assert graph.nodes[: len(before)] == before


def check_graph(graph: Graph) -> None:
    """The whole invariant: inputs stand before their users, no node twice, no gate that means less than it says."""
    assert graph.nodes[0].kind == "true"
    assert len(set(graph.nodes)) == len(graph.nodes)
    for index, node in enumerate(graph.nodes):
        assert all(one >> 1 < index for one in node.inputs)
        assert bool(node.inputs) == (node.kind in ("any", "at_least", "one_of"))
        if node.kind == "at_least":
            assert 1 < node.count < len(node.inputs)
    assert all(literal >> 1 < len(graph.nodes) for literal in graph.literals.values())


@settings(max_examples=20)
@given(libraries())
def test_a_library_becomes_a_graph_in_order(drawn: RandomLibrary) -> None:
    """Every condition, cause, signal and event has a literal, and every input stands before its users."""
    library = drawn.library
    graph = build(library)
    check_graph(graph)
    assert set(graph.literals) == {*library.conditions, *library.causes, *library.signals, *library.events}


@settings(max_examples=20)
@given(libraries())
def test_definitions_are_ordered_by_use(drawn: RandomLibrary) -> None:
    """Each signal and event comes once, after all that it uses."""
    library = drawn.library
    order = definition_order(library)
    place = {name: number for number, name in enumerate(order)}
    assert len(order) == len(place) == len(library.signals) + len(library.events)
    for name in order:
        entry = library.signals.get(name) or library.events[name]
        used = [ref.id for operand in operands(entry) for ref in refs(operand)]
        assert all(place[one] < place[name] for one in used if one in place)


def test_operands_come_in_the_order_written() -> None:
    signal = Signal(id="s/x", title="x", follows=Ref("s/f"), lost_if=(Ref("s/l"), Ref("s/m")), forced_if=(Ref("s/g"),))
    assert operands(signal) == (Ref("s/f"), Ref("s/l"), Ref("s/m"), Ref("s/g"))
    assert operands(Signal(id="s/y", title="y")) == ()


def signal_library(fields: dict[str, Plain]) -> Graph:
    """The graph of a signal `x` with causes a to d."""
    sections: dict[str, dict[str, Plain]] = {
        "causes": {name: {"title": name, "probability": 0.1} for name in NAMES},
        "signals": {"x": {"title": "x"} | fields},
        "symptoms": {"reported": {"title": "x", "sees": {"x": True}}},
    }
    text = document("Small", sections)
    return build(opened(text.partition("title: Small\n")[2]).library)


SIGNALS: list[tuple[dict[str, Plain], Callable[[Set[str]], bool]]] = [
    ({"follows": "a"}, lambda on: "a" in on),
    ({"lost_if": ["b", "c"]}, lambda on: not on & {"b", "c"}),
    ({"follows": "a", "lost_if": ["b"]}, lambda on: "a" in on and "b" not in on),
    ({"follows": "a", "lost_if": ["b"], "forced_if": ["c"]}, lambda on: "c" in on or ("a" in on and "b" not in on)),
    ({"follows": "a", "lost_if": ["b"], "forced_if": ["b"]}, lambda on: bool(on & {"a", "b"})),
]


@pytest.mark.parametrize(("fields", "rule"), SIGNALS, ids=["follows", "lost", "follows-lost", "all", "forced-wins"])
def test_a_signal_follows_unless_lost_and_forced_wins(
    fields: dict[str, Plain], rule: Callable[[Set[str]], bool]
) -> None:
    """The format's rule: (follows and not any(lost_if)) or any(forced_if), `follows` true where it is not given."""
    graph = signal_library(fields)
    for present in sets():
        values = evaluate(graph, {}, {f"s/{name}" for name in present})
        assert value_of(values, graph.literals["s/x"]) == rule(present)


def test_negating_twice_changes_nothing() -> None:
    assert [negate(negate(one)) for one in range(6)] == list(range(6))
    assert all(negate(one) != one for one in range(6))
