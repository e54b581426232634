"""What operands and gates refuse."""

from __future__ import annotations

import pytest

from faultree.library.model import Gate, Ref, refs
from faultree.library.operands import GATES
from faultree.library.shapes import EVENT
from tests.library.texts import Broken, broken, loaded, problems


@pytest.mark.parametrize("mistake", broken("operands"))
def test_every_mistake_is_named_with_place_and_remedy(mistake: Broken) -> None:
    """The exact messages are what an author works with."""
    assert problems(mistake.fragment) == mistake.messages


def test_gates_nest_and_keep_their_order_and_places() -> None:
    library = loaded(
        "causes:\n  c: {title: C, probability: 0.1}\n  d: {title: D, probability: 0.1}\n"
        "events:\n  e:\n    title: E\n    one_of:\n      - all: [c, {not: d}]\n      - none: [{any: [c, a/d]}]\n"
        "      - at_least: {count: 2, of: [d, c]}\n"
    )
    c, d = Ref("a/c"), Ref("a/d")
    gate = library.events["a/e"].gate
    assert gate == Gate(
        "one_of",
        (Gate("all", (c, Gate("not", (d,)))), Gate("none", (Gate("any", (c, d)),)), Gate("at_least", (d, c), 2)),
    )
    assert [ref.id for ref in refs(gate)] == ["a/c", "a/d", "a/c", "a/d", "a/d", "a/c"]
    assert [str(ref.at) for ref in refs(gate)][:2] == ["a.yaml:10:15", "a.yaml:10:24"]


def test_the_shapes_list_every_gate() -> None:
    """An event may hold each gate that an operand may."""
    assert set(GATES) == set(EVENT.fields) - {"title"}
