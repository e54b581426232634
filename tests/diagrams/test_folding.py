"""A branch is folded only where it tells of no fault: read as drawn, a tree has the cut sets of the symptom."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.diagrams.evidence import NOTHING
from faultree.diagrams.folding import idle_branches
from faultree.diagrams.parts import Part, unfolded
from faultree.library.load import load_texts
from faultree.logic.cut_sets import cut_sets
from faultree.logic.derive import fault_tree
from tests.diagrams.small import drawn
from tests.trees.demonstration import library

SYMPTOMS = sorted(library().symptoms)


def drawn_parts(symptom: str) -> Part:
    tree = fault_tree(library(), symptom)
    return unfolded(tree, NOTHING, folded=idle_branches(library(), tree))


@pytest.mark.parametrize("symptom", SYMPTOMS)
def test_every_cause_of_a_minimal_cut_set_is_drawn(symptom: str) -> None:
    drawn_causes = {part.node.source for part in drawn_parts(symptom) if part.kind == "cause"}
    needed = frozenset[str]().union(*cut_sets(library(), symptom))
    assert not needed - drawn_causes


def reads(part: Part, gates: dict[str, Part], faults: frozenset[str], known: dict[str, bool]) -> bool:
    """What a reader takes a part for under some faults: a folded branch is so."""
    if part.id not in known:
        known[part.id] = value(part, gates, faults, known) != part.negated
    return known[part.id]


def value(part: Part, gates: dict[str, Part], faults: frozenset[str], known: dict[str, bool]) -> bool:
    """The same without the ring at its input."""
    node = part.node
    if part.kind == "transfer":
        return reads(gates[node.key], gates, faults, known) != gates[node.key].negated
    if part.kind != "gate":
        return {"cause": node.source in faults, "house": bool(node.state), "folded": True}.get(part.kind, False)
    inner = [reads(kid, gates, faults, known) for kid in part.kids]
    count = sum(inner)
    counts = {"all": count == len(inner), "any": count > 0, "at_least": count >= node.count, "one_of": count == 1}
    return counts.get(node.gate or "any", count == 0)


@pytest.mark.parametrize("symptom", SYMPTOMS)
def test_as_drawn_no_fault_and_no_part_of_a_cut_set_produces_the_symptom_that_does_not(symptom: str) -> None:
    """Else what needs a second fault in a folded branch would be read as a single fault."""
    root = drawn_parts(symptom)
    gates = {part.node.key: part for part in root if part.kind == "gate"}
    minimal = list(cut_sets(library(), symptom))
    causes = sorted({part.node.source for part in root if part.kind == "cause"})
    tried = [frozenset([name]) for name in causes] + [one - {name} for one in minimal for name in one] + minimal
    for faults in dict.fromkeys(tried):
        if reads(root, gates, faults, {}):
            assert any(one <= faults for one in minimal), sorted(faults)


def test_what_a_second_fault_must_keep_up_is_drawn() -> None:
    """With the pump's shaft sheared the transfer unit would run: what keeps it from that is half of the cut set."""
    text = " ".join(entry.words for entry in drawn(library(), "hydraulics/low-pressure-2").plain.outline)
    for title in ("transfer valve stuck closed", "transfer unit seized", "shaft of pump 1 sheared"):
        assert title in text


GATED = """
faultree: 1
title: Page
causes:
  a: {title: a broken, probability: 0.1}
  b: {title: b broken, probability: 0.1}
  c: {title: c broken, probability: 0.1}
  d: {title: d broken, probability: 0.1}
signals:
  supply: {title: supply working, lost_if: [a, b, c, d]}
  lamp: {title: lamp lit, follows: {all: [supply, dark]}}
  dark: {title: circuit closed wrongly, follows: {any: [e, f]}}
events:
  e: {title: e or f, any: [e1, f1]}
  f: {title: f, any: [f1]}
symptoms:
  lit: {title: the lamp is lit, sees: {lamp: yes}}
"""


def test_what_must_go_on_working_is_folded() -> None:
    text = GATED.replace("causes:", "causes:\n  e1: {title: e, probability: 0.1}\n  f1: {title: f, probability: 0.1}")
    one = load_texts({"page.yaml": text})
    tree = fault_tree(one, "page/lit")
    assert idle_branches(one, tree) == {"page/supply=yes"}
    folded = [entry for entry in drawn(one, "page/lit").plain.outline if entry.mark == "{}"]
    assert [entry.words for entry in folded] == ["supply working"]
    assert not [entry for entry in drawn(one, "page/lit", whole=True).plain.outline if entry.mark == "{}"]


def test_of_a_tree_that_was_cut_the_whole_one_says_what_is_folded() -> None:
    """A part with some inputs left out would be true or false for the wrong reasons."""
    tree = fault_tree(library(), "spoilers/lever-held-on-ground")
    cut = replace(tree, nodes={key: replace(node, of=len(node.inputs) + 1) for key, node in tree.nodes.items()})
    assert idle_branches(library(), cut) == idle_branches(library(), tree) != frozenset()
