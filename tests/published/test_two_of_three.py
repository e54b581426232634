"""Two-out-of-three and the bridge, the usual textbook systems.

Source: standard reliability textbook examples at a failure probability of 0.1 for each part; the
bridge's cut sets were read, the figures are computed exactly from them.
"""

from __future__ import annotations

import pytest

from faultree.belief.importance import importance
from tests.published.small import answers, explained, library_of, listed, opened, probability

HEAD = """
conditions:
  asked: {title: Somebody asked, usually: yes}
symptoms:
  reported: {title: The system has failed, event: failed}
  nothing: {title: Somebody asked, event: asked}
checks:
  look: {title: Look at the system, ask: Has it failed?, reads: failed}
  look-1: {title: Look at 1, ask: Has it failed?, reads: x1}
  look-3: {title: Look at 3, ask: Has it failed?, reads: x3}
causes:
  x1: {title: Part 1 has failed, probability: 0.1}
  x2: {title: Part 2 has failed, probability: 0.1}
  x3: {title: Part 3 has failed, probability: 0.1}
"""

TWO_OF_THREE = f"""{HEAD}
events:
  failed: {{title: Two or more have failed, at_least: {{count: 2, of: [x1, x2, x3]}}}}
"""

BRIDGE = f"""{HEAD}
  x4: {{title: Part 4 has failed, probability: 0.1}}
  x5: {{title: Part 5 has failed, probability: 0.1}}
events:
  failed:
    title: The bridge is cut
    any: [{{all: [x1, x2]}}, {{all: [x4, x5]}}, {{all: [x1, x3, x5]}}, {{all: [x2, x3, x4]}}]
"""


def birnbaum(library: str, check: str) -> float:
    """P(failed / part failed) - P(failed / part good)."""
    case = opened(library, "nothing")
    left = {answer: answers(case.answer(check, answer), "look")["yes"] for answer in ("yes", "no")}
    return left["yes"] - left["no"]


@pytest.mark.parametrize(("library", "top"), [(TWO_OF_THREE, 0.028), (BRIDGE, 0.02152)])
def test_probability_of_failure(library: str, top: float) -> None:
    assert answers(opened(library, "nothing"), "look")["yes"] == pytest.approx(top, abs=1e-12)


@pytest.mark.parametrize(
    ("library", "check", "expected"),
    [(TWO_OF_THREE, "look-1", 0.18), (BRIDGE, "look-1", 0.1062), (BRIDGE, "look-3", 0.0162)],
)
def test_birnbaum_importance(library: str, check: str, expected: float) -> None:
    assert birnbaum(library, check) == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize(
    ("library", "cut_sets"),
    [
        (TWO_OF_THREE, ["12", "13", "23"]),
        (BRIDGE, ["12", "45", "135", "234"]),
    ],
)
def test_explanations_are_the_minimal_cut_sets(library: str, cut_sets: list[str]) -> None:
    """Both as the explanations of a case, and by the diagram that lists cut sets."""
    expected = {frozenset(f"x{part}" for part in one) for one in cut_sets}
    assert explained(opened(library)) == listed(library) == expected


def test_probability_of_a_part_given_the_failure() -> None:
    """P(x / top) = p P(top / x) / P(top) = 0.1 x 0.19 / 0.028, with P(top / x) = 0.028 + 0.9 x 0.18."""
    assert probability(opened(TWO_OF_THREE), "x1") == pytest.approx(0.1 * (0.028 + 0.9 * 0.18) / 0.028, abs=1e-12)


@pytest.mark.parametrize(
    ("library", "top", "birnbaums"),
    [
        (TWO_OF_THREE, 0.028, {"x1": 0.18, "x2": 0.18, "x3": 0.18}),
        (BRIDGE, 0.02152, {"x1": 0.1062, "x2": 0.1062, "x3": 0.0162, "x4": 0.1062, "x5": 0.1062}),
    ],
)
def test_probability_and_birnbaum_importance_by_the_diagram(
    library: str, top: float, birnbaums: dict[str, float]
) -> None:
    found = importance(library_of(library), "reported")
    assert found.lower == pytest.approx(top, abs=1e-15)
    assert {row.cause.removeprefix("s/"): row.birnbaum for row in found} == pytest.approx(birnbaums, abs=1e-15)
