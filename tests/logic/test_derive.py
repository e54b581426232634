"""Derived fault trees: equal to the symptom under every fault set, simple, shared, in the author's words and order."""

from __future__ import annotations

import random
from itertools import combinations

import pytest

from faultree.base.errors import UnknownName
from faultree.library.load import load, load_texts
from faultree.library.model import Library
from faultree.logic.derive import fault_tree
from faultree.logic.fault_tree import FaultTree
from tests.logic.trees import holds, values
from tests.oracles.brute import World, fault_sets
from tests.oracles.random_libraries import random_library

TREES = load("trees")


def small(text: str) -> Library:
    return load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{text}"})


def shown(tree: FaultTree) -> dict[str, tuple[str | None, tuple[str, ...]]]:
    """Each node's gate and inputs."""
    return {node.key: (node.gate, node.inputs) for node in tree}


@pytest.mark.parametrize("seed", range(50))
def test_a_tree_is_true_exactly_where_its_symptom_is(seed: int) -> None:
    """For every fault set of a random library, every gate, several files, situations and conditions included."""
    library = random_library(random.Random(seed)).library
    for name, symptom in library.symptoms.items():
        tree = fault_tree(library, name)
        for faults, _ in fault_sets(library):
            world = World(library, faults, symptom.situation)
            assert holds(tree, faults) == all(world.node(node) == value for node, value in symptom.sees)


@pytest.mark.parametrize("symptom", TREES.symptoms)
def test_trees_of_the_demonstration_library_are_true_exactly_where_their_symptoms_are(symptom: str) -> None:
    """Under nothing wrong, every single cause, and some pairs."""
    tree = fault_tree(TREES, symptom)
    entry = TREES.symptoms[symptom]
    pairs = random.Random(symptom).sample(list(combinations(TREES.causes, 2)), 30)
    for faults in [(), *((one,) for one in TREES.causes), *pairs]:
        world = World(TREES, faults, entry.situation)
        assert holds(tree, set(faults)) == all(world.node(node) == value for node, value in entry.sees), faults


@pytest.mark.parametrize("seed", range(0, 50, 4))
def test_every_tree_is_well_formed(seed: int) -> None:
    library = random_library(random.Random(seed)).library
    for name in library.symptoms:
        well_formed(fault_tree(library, name))


@pytest.mark.parametrize("symptom", TREES.symptoms)
def test_trees_of_the_demonstration_library_are_well_formed(symptom: str) -> None:
    well_formed(fault_tree(TREES, symptom))


def well_formed(tree: FaultTree) -> None:
    """Top first, nodes before inputs, all used; no gate that one input settles, none merged that could be."""
    assert next(iter(tree)).key == tree.top == "top"
    place = {key: number for number, key in enumerate(tree.nodes)}
    used = {one for node in tree for one in node.inputs}
    usual = values(tree, frozenset())
    assert used | {tree.top} == set(tree.nodes)
    for node in tree:
        assert all(place[one] > place[node.key] for one in node.inputs)
        assert (node.kind == "gate") == (node.gate is not None)
        assert (node.kind == "house") == (node.state is not None)
        assert node.title or (node.kind == "gate" and not node.source)
        assert node.usual == usual[node.key]
        if node.key != tree.top and node.gate not in (None, "not"):
            assert len(node.inputs) > 1
        for one in node.inputs:
            inner = tree.nodes[one]
            assert inner.title or inner.gate != node.gate or node.gate not in ("all", "any")


HOUSE = """
conditions:
  h1: {title: house event}
situations:
  on: {title: house event on, sets: {h1: yes}}
causes:
  e1: {title: first part dead, probability: 0.01}
  e2: {title: second part dead, probability: 0.02}
  e3: {title: third part dead, probability: 0.03}
  e4: {title: fourth part dead, probability: 0.04}
events:
  top: {title: TOP, any: [g1, g2]}
  g1: {title: G1, all: [h1, g3, g4]}
  g2: {title: G2, all: [{not: h1}, e2, g4]}
  g3: {title: G3, any: [e1, e3]}
  g4: {title: G4, any: [e3, e4]}
symptoms:
  with-it: {title: with the house event, situation: on, event: top}
  without-it: {title: without the house event, event: top}
"""


def test_the_situation_is_folded_in() -> None:
    """The live branch keeps its house event with its state; the other is gone, and the gate over one branch with it.

    Tree of the Open-PSA Model Exchange Format's specification.
    """
    tree = fault_tree(small(HOUSE), "with-it")
    assert shown(tree) == {
        "top": ("all", ("s/h1", "s/g3=yes", "s/g4=yes")),
        "s/h1": (None, ()),
        "s/g3=yes": ("any", ("s/e1", "s/e3")),
        "s/g4=yes": ("any", ("s/e3", "s/e4")),
        "s/e1": (None, ()),
        "s/e3": (None, ()),
        "s/e4": (None, ()),
    }
    assert tree.nodes["s/h1"].state is True
    assert tree.nodes["s/h1"].kind == "house"
    assert tree.shared == {"s/e3"}
    assert tree.title == tree.nodes["top"].title == "with the house event"


def test_a_house_event_that_is_off_stands_below_a_not() -> None:
    tree = fault_tree(small(HOUSE), "without-it")
    assert shown(tree)["top"] == ("all", ("s/h1=no", "s/e2", "s/g4=yes"))
    assert shown(tree)["s/h1=no"] == ("not", ("s/h1",))
    assert tree.nodes["s/h1"].state is False


SIGNALS = """
conditions:
  pressed: {title: button pressed}
situations:
  pressing: {title: pressing, sets: {pressed: yes}}
causes:
  fuse: {title: fuse blown, probability: 0.1}
  wire: {title: wire broken, probability: 0.1}
  bridge: {title: contact bridged, probability: 0.1}
  lamp: {title: lamp burnt out, probability: 0.1}
signals:
  supply: {title: supply of the house, undeveloped: yes}
  voltage: {title: voltage at the lamp, follows: {all: [supply, pressed]}, lost_if: [fuse, wire], forced_if: [bridge]}
  lit: {title: lamp lit, follows: voltage, lost_if: [lamp]}
symptoms:
  dark: {title: the lamp stays dark, situation: pressing, sees: {lit: no}}
  glows: {title: the lamp glows by itself, sees: {lit: yes}}
  dead: {title: no voltage and still light, situation: pressing, sees: {voltage: no, lit: yes}}
"""


def test_a_lost_signal_by_de_morgan() -> None:
    """What it follows is lost, or something takes it away; and nothing forces it."""
    tree = fault_tree(small(SIGNALS), "dark")
    assert shown(tree) == {
        "top": ("any", ("s/voltage=no", "s/lamp")),
        "s/voltage=no": ("all", ("gate-1", "s/bridge=no")),
        "gate-1": ("any", ("s/supply", "s/fuse", "s/wire")),
        "s/supply": (None, ()),
        "s/fuse": (None, ()),
        "s/wire": (None, ()),
        "s/bridge=no": ("not", ("s/bridge",)),
        "s/bridge": (None, ()),
        "s/lamp": (None, ()),
    }
    assert tree.nodes["s/supply"].kind == "undeveloped"


PARTLY = """
causes:
  fuse: {title: fuse blown, probability: 0.1}
  wire: {title: wire broken, probability: 0.1}
  lamp: {title: lamp burnt out, probability: 0.1}
signals:
  voltage: {title: voltage at the lamp, undeveloped: yes, lost_if: [fuse, wire]}
  lit: {title: lamp lit, follows: voltage, lost_if: [lamp]}
symptoms:
  dark: {title: the lamp stays dark, sees: {lit: no}}
"""


def test_what_is_left_undeveloped_stands_beside_what_is_written_down() -> None:
    """Below a gate of another signal too: no node takes the place of the other."""
    tree = fault_tree(small(PARTLY), "dark")
    assert shown(tree) == {
        "top": ("any", ("s/voltage=no", "s/lamp")),
        "s/voltage=no": ("any", ("s/fuse", "s/wire", "s/voltage")),
        "s/fuse": (None, ()),
        "s/wire": (None, ()),
        "s/voltage": (None, ()),
        "s/lamp": (None, ()),
    }
    assert tree.nodes["s/voltage"].title == "no voltage at the lamp: further causes, not worked out here"


def test_a_forced_signal() -> None:
    """Nothing is pressed, so only the bridge can bring it; the lamp must be whole for it to show."""
    tree = fault_tree(small(SIGNALS), "glows")
    assert shown(tree) == {
        "top": ("all", ("s/bridge", "s/lamp=no")),
        "s/bridge": (None, ()),
        "s/lamp=no": ("not", ("s/lamp",)),
        "s/lamp": (None, ()),
    }


def test_a_symptom_that_nothing_can_cause_is_a_gate_of_nothing() -> None:
    library = small("causes: {a: {title: A, probability: 0.1}}\nsignals: {b: {title: B, follows: a}}\n"
                    "symptoms: {s: {title: both, sees: {b: yes, a: no}}}")  # fmt: skip
    assert shown(fault_tree(library, "s")) == {"top": ("any", ())}


def test_a_symptom_that_is_always_there_names_the_house_events_that_make_it_so() -> None:
    library = small("conditions: {c: {title: C, usually: yes}}\nevents: {e: {title: E, any: [c, {not: c}]}}\n"
                    "symptoms: {s: {title: there, event: e}}")  # fmt: skip
    assert shown(fault_tree(library, "s")) == {"top": ("all", ("s/c",)), "s/c": (None, ())}


def test_gates_that_count_and_gates_that_deny_are_kept() -> None:
    causes = "".join(f"  {name}: {{title: {name}, probability: 0.1}}\n" for name in "abcd")
    library = small(
        f"causes:\n{causes}events:\n"
        "  vote: {title: two of three, at_least: {count: 2, of: [a, b, c]}}\n"
        "  odd: {title: one side only, one_of: [a, d]}\n"
        "  rest: {title: all quiet, none: [c, d]}\n"
        "symptoms:\n"
        "  so: {title: so, sees: {vote: yes, odd: yes, rest: no}}\n"
        "  not-so: {title: not so, sees: {vote: no, odd: no, rest: yes}}\n"
    )
    tree = shown(fault_tree(library, "so"))
    assert tree["s/vote=yes"] == ("at_least", ("s/a", "s/b", "s/c"))
    assert tree["s/odd=yes"] == ("one_of", ("s/a", "s/d"))
    assert tree["s/rest=no"] == ("any", ("s/c", "s/d"))
    opposite = shown(fault_tree(library, "not-so"))
    assert opposite["s/vote=no"] == ("at_least", ("s/a=no", "s/b=no", "s/c=no"))  # 2 of 3 are absent
    assert opposite["s/odd=no"] == ("not", ("gate-1",))
    assert opposite["gate-1"] == ("one_of", ("s/a", "s/d"))


def test_one_of_two_signals_that_are_usually_there_counts_those_lost() -> None:
    library = small(
        "causes: {a: {title: A, probability: 0.1}, b: {title: B, probability: 0.1}, c: {title: C, probability: 0.1}}\n"
        "signals: {left: {title: left, lost_if: [a, c]}, right: {title: right, lost_if: [b, c]}}\n"
        "events: {apart: {title: apart, one_of: [left, right]}}\n"
        "symptoms: {s: {title: they differ, event: apart}}\n"
    )
    assert shown(fault_tree(library, "s"))["top"] == ("one_of", ("s/left=no", "s/right=no"))


def test_a_part_that_both_sides_use_stands_once() -> None:
    """A transfer from another file included."""
    library = load_texts(
        {
            "power.yaml": "faultree: 1\ntitle: Power\ncauses: {fuse: {title: fuse, probability: 0.1},"
            " bus: {title: bus, probability: 0.1}}\nsignals: {live: {title: bus live, lost_if: [fuse, bus]}}\n",
            "doors.yaml": "faultree: 1\ntitle: Doors\ncauses: {l: {title: L, probability: 0.1},"
            " r: {title: R, probability: 0.1}}\n"
            "signals: {left: {title: left open, follows: power/live, lost_if: [l]},"
            " right: {title: right open, follows: power/live, lost_if: [r]}}\n"
            "symptoms: {s: {title: both shut, sees: {left: no, right: no}}}\n",
        }
    )
    tree = fault_tree(library, "s")
    assert tree.shared == {"power/live=no"}
    assert [node.system for node in tree if node.key == "power/live=no"] == ["power"]


def test_an_unknown_symptom_is_an_unknown_name() -> None:
    with pytest.raises(UnknownName):
        fault_tree(TREES, "stay-dow")


def test_the_same_library_gives_the_same_tree() -> None:
    one, two = load("trees"), load("trees")
    for name in one.symptoms:
        assert fault_tree(one, name).to_dict() == fault_tree(two, name).to_dict()


def test_a_chain_of_two_thousand_signals_is_no_trouble() -> None:
    """Depth is limited by nothing but memory: nothing recurses over the nodes of a library."""
    lines = ["causes:"] + [f"  c{n}: {{title: C{n}, probability: 0.001}}" for n in range(2000)] + ["signals:"]
    lines += ["  s0: {title: S0, lost_if: [c0]}"]
    lines += [f"  s{n}: {{title: S{n}, follows: s{n - 1}, lost_if: [c{n}]}}" for n in range(1, 2000)]
    lines += ["symptoms:", "  s: {title: gone, sees: {s1999: no}}"]
    tree = fault_tree(small("\n".join(lines) + "\n"), "s")
    assert len(tree.causes) == 2000
