"""The full adder with gates that can be wrong.

Source: R. Reiter, "A theory of diagnosis from first principles", Artificial Intelligence 32, 1987 (data
from memory): inputs 1 0 1, outputs 1 0; the minimal diagnoses are {X1}, {X2, A2} and {X2, O1}.
"""

from __future__ import annotations

import pytest

from faultree.strategy.case import Case
from tests.published.small import explained, opened

INPUTS = """
conditions:
  a: {title: First input, usually: yes}
  b: {title: Second input, usually: no}
  carry-in: {title: Carry in, usually: yes}
symptoms:
  reported: {title: Sum 1 and carry 0, sees: {sum: yes, carry: no}}
checks:
  probe-x1: {title: Probe behind X1, ask: Is it 1?, reads: after-x1}
"""

# A wrong gate gives the opposite of what it should.
INVERTED = f"""{INPUTS}
causes:
  x1: {{title: Gate X1 is wrong, probability: 0.01}}
  x2: {{title: Gate X2 is wrong, probability: 0.01}}
  a1: {{title: Gate A1 is wrong, probability: 0.01}}
  a2: {{title: Gate A2 is wrong, probability: 0.01}}
  o1: {{title: Gate O1 is wrong, probability: 0.01}}
events:
  after-x1: {{title: Behind X1, one_of: [x1, {{one_of: [a, b]}}]}}
  sum: {{title: Behind X2, one_of: [x2, {{one_of: [after-x1, carry-in]}}]}}
  after-a1: {{title: Behind A1, one_of: [a1, {{all: [a, b]}}]}}
  after-a2: {{title: Behind A2, one_of: [a2, {{all: [after-x1, carry-in]}}]}}
  carry: {{title: Behind O1, one_of: [o1, {{any: [after-a1, after-a2]}}]}}
"""


def stuck(gate: str, signal: str, right: str) -> tuple[str, str, str]:
    """Item, causes and signal of a gate whose output can be stuck at 1 or at 0."""
    item = f"  {gate}: {{title: Gate {gate}}}\n"
    causes = "".join(
        f"  {gate}-{value}: {{title: {gate} stuck at {value}, item: {gate}, probability: 0.01}}\n" for value in (0, 1)
    )
    return (
        item,
        causes,
        f"  {signal}: {{title: {signal}, follows: {right}, lost_if: [{gate}-0], forced_if: [{gate}-1]}}\n",
    )


def stuck_library() -> str:
    """The same adder in success logic, each gate an item with two failure modes that exclude each other."""
    parts = [
        stuck("x1", "after-x1", "{one_of: [a, b]}"),
        stuck("x2", "sum", "{one_of: [after-x1, carry-in]}"),
        stuck("a1", "after-a1", "{all: [a, b]}"),
        stuck("a2", "after-a2", "{all: [after-x1, carry-in]}"),
        stuck("o1", "carry", "{any: [after-a1, after-a2]}"),
    ]
    items, causes, signals = map("".join, zip(*parts, strict=True))
    return f"{INPUTS}\nitems:\n{items}causes:\n{causes}signals:\n{signals}"


DIAGNOSES = {frozenset({"x1"}), frozenset({"x2", "a2"}), frozenset({"x2", "o1"})}


def test_minimal_diagnoses_when_a_wrong_gate_inverts() -> None:
    assert explained(opened(INVERTED)) == DIAGNOSES


def test_minimal_diagnoses_when_a_wrong_gate_is_stuck() -> None:
    found = explained(opened(stuck_library()))
    assert {frozenset(cause.partition("-")[0] for cause in one) for one in found} == DIAGNOSES
    assert found == {frozenset({"x1-0"}), frozenset({"x2-1", "a2-0"}), frozenset({"x2-1", "o1-0"})}


def test_the_single_fault_outweighs_the_double_ones() -> None:
    """With equal priors p the weights are in the ratio (1 - p)/p = 99 (by hand)."""
    weights = [one.probability for one in opened(INVERTED).explanations()]
    assert weights[0] / weights[1] == pytest.approx(99.0, rel=1e-9)
    assert weights[1] == pytest.approx(weights[2], rel=1e-9)


@pytest.mark.parametrize(("answer", "left"), [("no", [{"x1"}]), ("yes", [{"x2", "a2"}, {"x2", "o1"}])])
def test_probing_behind_x1_tells_the_diagnoses_apart(answer: str, left: list[set[str]]) -> None:
    """De Kleer and Williams' measurement idea, by hand: behind X1 there is a 0 only if X1 is wrong."""
    case: Case = opened(INVERTED).answer("probe-x1", answer)
    assert explained(case) == set(map(frozenset, left))
