"""The net of a symptom holds everything that the symptom rests on, with its qualifiers and turned inputs."""

from __future__ import annotations

import pytest

from faultree.diagrams.net import Link, Net, net_of
from faultree.library.load import load_texts
from faultree.library.model import Library, refs
from faultree.logic.graph import operands
from tests.diagrams.small import door
from tests.oracles.brute import World
from tests.trees.demonstration import library

PAGE = """
faultree: 1
title: Page
conditions: {held: {title: button held}}
causes:
  a: {title: a broken, probability: 0.1}
  b: {title: b broken, probability: 0.1}
signals:
  power: {title: power, lost_if: [a]}
  other: {title: other}
  gated: {title: gated, follows: {none: [power, held]}, lost_if: [{all: [b, other]}], forced_if: [a]}
  most: {title: most, follows: {at_least: {count: 2, of: [power, other, {not: gated}]}}}
  one: {title: one, follows: {one_of: [power, other]}}
symptoms:
  out: {title: most and one are out, sees: {most: no, one: yes}}
"""


def page() -> Net:
    return net_of(load_texts({"page.yaml": PAGE}), "page/out")


def into(net: Net, head: str) -> list[Link]:
    return [link for link in net.links if link.head == head]


def test_gates_stand_in_the_box_of_their_signal() -> None:
    net = page()
    assert net.nodes["page/most"].sign == "≥2"
    assert net.nodes["page/one"].sign == "=1"
    assert net.nodes["page/out"].sign == "&"
    assert net.nodes["page/power"].sign == ""


def test_none_is_all_with_every_input_turned() -> None:
    net = page()
    assert net.nodes["page/gated"].sign == "&"
    follows = [link for link in into(net, "page/gated") if link.way == "follows"]
    assert all(link.turned for link in follows)
    assert len(follows) == 2


def test_what_takes_a_signal_away_is_named_or_linked() -> None:
    net = page()
    gated = net.nodes["page/gated"]
    assert [(row.way, row.name, bool(row.tail)) for row in gated.rows] == [
        ("lost", "", True),
        ("forced", "page/a", False),
    ]
    assert [net.says(row) for row in gated.rows] == ["all of these", "a broken"]
    (lost,) = [link for link in into(net, "page/gated") if link.way == "lost"]
    assert net.nodes[lost.tail].kind == "gate"
    assert {net.nodes[link.tail].source or link.tail for link in into(net, lost.tail)} == {"page/b", "page/other"}


def test_a_turned_input_is_marked() -> None:
    net = page()
    turned = {link.tail: link.turned for link in into(net, "page/most")}
    assert turned == {"page/power": False, "page/other": False, "page/gated": True}
    assert {link.tail: link.turned for link in into(net, "page/out")} == {"page/most": True, "page/one": False}


def below(lib: Library, symptom: str) -> set[str]:
    found: set[str] = set()
    pending = [name for name, _ in lib.symptoms[symptom].sees]
    while pending:
        name = pending.pop()
        if name not in found:
            found.add(name)
            entry = lib.signals.get(name) or lib.events.get(name)
            pending += [ref.id for one in operands(entry) for ref in refs(one)] if entry else []
    return found


@pytest.mark.parametrize("symptom", sorted(library().symptoms)[::6])
def test_nothing_is_left_out(symptom: str) -> None:
    net = net_of(library(), symptom)
    shown = {node.source for node in net.nodes.values()}
    shown |= {row.name for node in net.nodes.values() for row in node.rows}
    assert below(library(), symptom) | {symptom} == shown - {""}


def value(net: Net, world: World, name: str) -> bool:
    """The value of a box worked out from the picture alone: qualifier, links, rings and rows."""
    node = net.nodes[name]
    if node.kind in ("condition", "cause"):
        return world.node(node.source)
    links = into(net, name)
    ins: dict[str, list[bool]] = {"follows": [], "lost": [], "forced": []}
    for one in links:
        ins[one.way].append(value(net, world, one.tail) != one.turned)
    for row in node.rows:
        if not row.tail:
            ins[row.way].append(world.node(row.name))
    count = sum(ins["follows"])
    least = {"&": len(ins["follows"]), "": len(ins["follows"]), "≥1": 1}.get(node.sign)
    holds = count == 1 if node.sign == "=1" else count >= (least if least is not None else int(node.sign[1:]))
    return (holds and not any(ins["lost"])) or any(ins["forced"])


@pytest.mark.parametrize("faults", [(), ("page/a",), ("page/b",), ("page/a", "page/b")])
@pytest.mark.parametrize("held", [True, False])
def test_the_picture_means_what_the_file_says(faults: tuple[str, ...], held: bool) -> None:
    """Each box, read as the legend says, has the value that the slow reference gives its node."""
    text = PAGE.replace("{title: button held}", f"{{title: button held, usually: {'yes' if held else 'no'}}}")
    lib = load_texts({"page.yaml": text})
    net = net_of(lib, "page/out")
    world = World(lib, frozenset(faults), None)
    for name in lib.signals:
        if name in net.nodes:
            assert value(net, world, name) == world.node(name), name


@pytest.mark.parametrize("fault", ["spoilers/lever-stop-pin-stuck", "air-ground/ground-relay-2-open", None])
def test_a_demonstration_picture_means_what_the_files_say(fault: str | None) -> None:
    symptom = library().symptoms["spoilers/lever-held-on-ground"]
    net = net_of(library(), symptom.id)
    world = World(library(), frozenset([fault] if fault else []), symptom.situation)
    for node in net.nodes.values():
        if node.kind == "signal":
            assert value(net, world, node.id) == world.node(node.id), node.id


def test_boxes_come_before_what_they_lead_to() -> None:
    names = list(net_of(door(), "door/stands").nodes)
    assert names.index("door/voltage") < names.index("door/running") < names.index("door/stands")
