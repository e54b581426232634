"""A chart as plain data for a file, and back: read with every field checked against the library."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict
from graphlib import CycleError, TopologicalSorter
from typing import Any, cast, get_args

from faultree.base.errors import ChartError
from faultree.library.model import Library, Who
from faultree.strategy.chart.nodes import GONE, STILL, Action, End, Ending, Exit, Goal, Open, Step
from faultree.strategy.chart.plain import Record

SAVED = 1
"""The number of the saved form."""

NEAR = 1e-6
"""The probabilities of a step's answers add up to 1 within this."""


def to_plain(head: Mapping[str, object], nodes: Iterable[Step | End]) -> dict[str, object]:
    """A chart's own fields and its nodes as plain data: tuples become lists, and a node says which kind it is."""
    found = [{"kind": type(node).__name__.lower(), **asdict(node)} for node in nodes]
    plain = {name: _listed(value) for name, value in head.items()}
    return {"chart": SAVED, **plain, "nodes": [_listed(node) for node in found]}


def _listed(value: object) -> object:
    """Tuples as lists, all the way down."""
    if isinstance(value, Mapping):
        return {key: _listed(one) for key, one in value.items()}
    return [_listed(one) for one in value] if isinstance(value, tuple | list) else value


def from_plain(library: Library, data: Mapping[str, object]) -> dict[str, Any]:
    """The fields of a chart, read and checked; ChartError names what is wrong, or why it does not fit the library."""
    if data.get("chart") != SAVED:
        raise ChartError(f"no saved chart: 'chart: {SAVED}' is missing; 'faultree chart -o FILE.json' writes it")
    head = Record(data, "the chart")
    _same_library(library, head)
    return {
        "symptoms": head.names("symptoms", library.symptoms, "symptom"),
        "goal": head.choice("goal", get_args(Goal)),
        "by": _people(head),
        **{name: head.number(name) for name in ("expected_minutes", "lower_bound", "worst_minutes", "expected_checks")},
        "cut": head.chance("cut"),
        "digest": library.digest,
        "nodes": _nodes(library, head),
        "left_out": head.chance("left_out"),
        "stopped": head.flag("stopped"),
    }


def _nodes(library: Library, head: Record) -> dict[int, Step | End]:
    read = [_node(library, Record(one.data, _named(one))) for one in head.records("nodes", "node")]
    nodes = {node.number: node for node in read}
    if len(nodes) < len(read):
        twice = next(node.number for number, node in enumerate(read) if nodes[node.number] is not read[number])
        raise ChartError(f"node {twice} stands there twice; every node needs a number of its own")
    _sound(nodes)
    return nodes


def _same_library(library: Library, head: Record) -> None:
    digest = head.text("digest")
    if digest != library.digest:
        reports = " ".join(str(name) for name in head.texts("symptoms"))
        raise ChartError(
            f"this chart was compiled from other tree files (their digest {digest[:12]}, that of {library.folder} "
            f"{library.digest[:12]}), and its cautions and figures may no longer hold; "
            f"compile it anew with: faultree chart {reports}"
        )


def _people(head: Record) -> tuple[Who, ...]:
    people = head.texts("by")
    wrong = [one for one in people if one not in get_args(Who)]
    if wrong:
        raise head.refuse("by", "a list of crew, line and shop")
    return cast("tuple[Who, ...]", people)


def _named(record: Record) -> str:
    """A node by its own number, which is what a person sees; else by its place in the list."""
    number = record.data.get("number")
    return f"node {number}" if isinstance(number, int) else record.where.rpartition(", ")[2]


# --- nodes -------------------------------------------------------------------------------------


def _node(library: Library, one: Record) -> Step | End:
    return _step(library, one) if one.choice("kind", ("step", "end")) == "step" else _end(library, one)


def _step(library: Library, one: Record) -> Step:
    action = cast("Action", one.choice("action", get_args(Action)))
    target = _check_or_unit(library, one, action)
    return Step(
        number=one.whole("number"),
        action=action,
        target=target,
        title=one.text("title"),
        ask=one.text("ask"),
        by=cast("Who", one.choice("by", get_args(Who))),
        minutes=one.number("minutes"),
        opens=one.names("opens", library.access, "access"),
        cautions=one.names("cautions", library.cautions, "caution"),
        probability=one.chance("probability"),
        open=_open(library, one, "open"),
        exits=tuple(_exits(library, one, action, target)),
    )


def _check_or_unit(library: Library, one: Record, action: Action) -> str:
    if action == "check":
        return one.name("target", library.checks, "check")
    return one.name("target", {**library.items, **library.causes}, "item or cause")


def _exits(library: Library, one: Record, action: Action, target: str) -> Iterator[Exit]:
    known = [answer.id for answer in library.checks[target].answers] if action == "check" else [GONE, STILL]
    total = 0.0
    for record in one.records("exits", "answer"):
        way = Exit(
            record.choice("answer", known), record.text("text"), record.chance("probability"), record.whole("to")
        )
        total += way.probability
        yield way
    if abs(total - 1.0) > NEAR:
        raise ChartError(f"{one.where}: the probabilities of its answers add up to {total:.6g}; they must add up to 1")


def _end(library: Library, one: Record) -> End:
    return End(
        number=one.whole("number"),
        ending=cast("Ending", one.choice("ending", get_args(Ending))),
        units=one.names("units", {**library.items, **library.causes}, "item or cause"),
        causes=_open(library, one, "causes"),
        manual=one.texts("manual"),
        cautions=one.names("cautions", library.cautions, "caution"),
        probability=one.chance("probability"),
        say=one.text("say"),
        cut=one.flag("cut"),
        minutes=one.number("minutes"),
        worst=one.number("worst"),
    )


def _open(library: Library, one: Record, key: str) -> tuple[Open, ...]:
    return tuple(
        Open(
            record.name("cause", library.causes, "cause"),
            None if record.text_or_none("item") is None else record.name("item", library.items, "item"),
            record.chance("probability"),
        )
        for record in one.records(key, key)
    )


# --- the whole ---------------------------------------------------------------------------------


def _sound(nodes: Mapping[int, Step | End]) -> None:
    """Every answer leads on, no way leads back, every node is reached from node 1, and no answer stands twice."""
    if 1 not in nodes:
        raise ChartError("node 1, where a chart begins, is missing")
    for node in nodes.values():
        _leads_on(nodes, node)
    try:
        order = list(TopologicalSorter({number: _next(node) for number, node in nodes.items()}).static_order())
    except CycleError as error:
        way = " to ".join(map(str, reversed(error.args[1])))
        raise ChartError(f"the chart would never end: its answers lead from node {way}") from error
    reached = {1}
    for number in reversed(order):  # a node comes before those it leads to
        if number in reached:
            reached |= _next(nodes[number])
    lost = sorted(nodes.keys() - reached)
    if lost:
        raise ChartError(f"no answer leads to node {lost[0]}; remove it, or compile the chart anew")


def _leads_on(nodes: Mapping[int, Step | End], node: Step | End) -> None:
    exits = node.exits if isinstance(node, Step) else ()
    if len({one.answer for one in exits}) < len(exits):
        raise ChartError(f"node {node.number}: an answer stands there twice")
    for one in exits:
        if one.to not in nodes:
            raise ChartError(f"node {node.number}: the answer '{one.answer}' leads to node {one.to}, which is missing")


def _next(node: Step | End) -> set[int]:
    return {one.to for one in node.exits} if isinstance(node, Step) else set()
