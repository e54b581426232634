"""Drafts written out: keys that say what a node speaks of, denials gathered, numbers from the top down."""

from __future__ import annotations

from faultree.library.load import load_texts
from faultree.logic.derive import fault_tree
from faultree.logic.fault_tree import FaultTree

CAUSES = "".join(f"  {name}: {{title: part {name} dead, probability: 0.1}}\n" for name in "abcd")


def derived(events: str, sees: str) -> FaultTree:
    text = f"faultree: 1\ntitle: Small\ncauses:\n{CAUSES}events:\n{events}symptoms:\n  r: {{title: R, sees: {sees}}}\n"
    return fault_tree(load_texts({"s.yaml": text}), "r")


def test_what_must_be_absent_is_gathered_below_one_gate() -> None:
    tree = derived("  e: {title: E, all: [a, {not: b}, {none: [c, d]}]}\n", "{e: yes}")
    assert tree.nodes["top"].inputs == ("s/a", "gate-1")
    assert (tree.nodes["gate-1"].gate, tree.nodes["gate-1"].inputs) == ("none", ("s/b", "s/c", "s/d"))


def test_a_gate_of_nothing_but_denials_is_none_itself() -> None:
    tree = derived("  e: {title: E, none: [c, d]}\n", "{e: yes, a: yes}")
    assert (tree.nodes["s/e=yes"].gate, tree.nodes["s/e=yes"].inputs) == ("none", ("s/c", "s/d"))


def test_a_single_denial_has_its_title_turned() -> None:
    tree = derived("  e: {title: E, all: [a, {not: b}]}\n", "{e: yes}")
    denial = tree.nodes["s/b=no"]
    assert (denial.gate, denial.title, denial.source, denial.usual) == ("not", "part b not dead", "s/b", True)


def test_undescribed_gates_are_numbered_from_the_top_down() -> None:
    tree = derived("  e: {title: E, any: [{all: [a, {any: [b, c]}]}, {all: [c, d]}]}\n", "{e: yes}")
    assert tree.nodes["top"].inputs == ("gate-1", "gate-3")
    assert tree.nodes["gate-1"].inputs == ("s/a", "gate-2")
    assert list(tree.nodes) == ["top", "gate-1", "s/a", "gate-2", "s/b", "gate-3", "s/c", "s/d"]


def test_the_top_takes_the_place_of_the_one_gate_below_it() -> None:
    tree = derived("  e: {title: E, any: [a, b]}\n", "{e: yes}")
    assert (tree.nodes["top"].gate, tree.nodes["top"].title) == ("any", "R")
    assert "s/e=yes" not in tree.nodes


def test_a_single_cause_stands_below_a_top_all_the_same() -> None:
    tree = derived("  e: {title: E, any: [a]}\n", "{e: yes}")
    assert (tree.nodes["top"].gate, tree.nodes["top"].inputs) == ("any", ("s/a",))
