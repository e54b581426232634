"""Marks join the panels of a logic drawing, and the way leads from the likeliest cause to the report."""

from __future__ import annotations

from faultree.diagrams.drawing import Request
from faultree.diagrams.evidence import Evidence
from faultree.diagrams.logic_facts import SPLIT, Facts
from faultree.diagrams.net import net_of
from tests.diagrams.small import door
from tests.oracles.brute import World
from tests.trees.demonstration import library

SYMPTOM = "spoilers/lever-held-on-ground"


def facts(symptom: str = SYMPTOM, evidence: Evidence = Evidence()) -> Facts:
    lib = library() if symptom in library().symptoms else door()
    net = net_of(lib, symptom)
    return Facts(Request(lib, symptom, evidence), net, {node.id: node.system for node in net.nodes.values()})


def test_values_are_those_of_a_sound_aircraft() -> None:
    found = facts()
    world = World(library(), frozenset(), library().symptoms[SYMPTOM].situation)
    for node in found.net.nodes.values():
        if node.kind == "signal":
            assert found.sound[node.id] == world.node(node.id)


def test_only_what_another_panel_uses_has_a_mark_and_no_mark_comes_twice() -> None:
    found = facts()
    used = {link.tail for link in found.net.links if found.home[link.tail] != found.home[link.head]}
    assert set(found.marks) == used
    assert len(set(found.marks.values())) == len(used)


def test_the_way_leads_on_links_from_the_cause_to_the_report() -> None:
    found = facts(evidence=Evidence({"x": 1.0}, "air-ground/ground-relay-2-open"))
    assert "air-ground/ground-mode-2" in found.way
    assert SYMPTOM in found.way
    heads = {link.tail: link.head for link in found.net.links if {link.tail, link.head} <= found.way}
    assert len(heads) == len(found.way) - 1


def test_without_evidence_there_is_no_way() -> None:
    assert facts().way == frozenset()


def test_pieces_of_a_system_are_counted_in_their_titles() -> None:
    found = facts("door/stands")
    assert found.panel_title("door") == "Door"
    names = list(found.home)
    split = Facts(
        found.asked,
        found.net,
        {name: f"door{SPLIT}{place % 2:02}" for place, name in enumerate(names)},
        {"door#00": 1, "door#01": 2},
    )
    assert split.panel_title("door#01") == "Door (2 of 2)"
    assert split.origin(names[1]) == "from: Door (2 of 2), page 2"
    assert split.panels() == ("door#00", "door#01")
