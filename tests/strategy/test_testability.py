"""What the checks tell apart: a small pump by hand, and enumeration on random libraries."""

from __future__ import annotations

import random
from itertools import permutations
from math import fsum

import pytest

from faultree.strategy.testability import SIZES, Idle, Testability, assess, errs, minutes_of
from tests.oracles.brute import unit_of
from tests.oracles.random_libraries import Size, random_library
from tests.strategy.matrices import Single, pump


def test_faults_that_every_check_shows_alike_are_a_group() -> None:
    """No water at the outlet may be any of three; who listens knows whether the pump turns."""
    assert assess(pump(), "pump/no-flow", by=["line"]).groups == (("pump/worn", "pump/seized", "pump/leak"),)
    found = assess(pump(), "pump/no-flow", by=["line", "crew"])
    assert found.groups == (("pump/worn", "pump/leak"),)
    assert found.item_groups == (("pump/pump", "pump/leak"),)


def test_a_check_that_is_admitted_parts_them() -> None:
    found = assess(pump(), "pump/no-flow")
    assert found.groups == ()
    assert found.item_groups == ()


def test_a_fault_that_leaves_every_check_as_usual_is_not_revealed() -> None:
    """Nobody looks at the gauge; who only listens hears nothing of a worn pump."""
    assert assess(pump(), "pump/no-flow", by=["crew"]).unrevealed == ("pump/worn", "pump/leak", "pump/low")
    assert assess(pump(), "pump/no-flow").unrevealed == ("pump/low",)


def test_faults_that_no_check_reveals_look_alike_too() -> None:
    """Their rows are equal: all as usual."""
    assert assess(pump(), "pump/no-flow", by=["crew"]).groups == (("pump/worn", "pump/leak", "pump/low"),)


def test_fractions_are_weighted_and_of_what_they_say() -> None:
    """Detected of all four (0.02, 0.01, 0.01, 0.01); isolated of the three that are revealed."""
    found = assess(pump(), "pump/no-flow", by=["line", "crew"])
    assert found.detected == pytest.approx(0.04 / 0.05)
    assert found.isolated == pytest.approx({1: 0.01 / 0.04, 2: 1.0, 3: 1.0})


def test_faults_of_one_item_are_isolated_to_it_though_no_check_parts_them() -> None:
    """Replacing the pump mends either fault of the pump, so a group of both counts as one item."""
    found = assess(pump(("lost_if: [worn, leak]", "lost_if: [worn]")), "pump/no-flow", by=["line"])
    assert found.groups == (("pump/worn", "pump/seized"),)
    assert found.item_groups == ()
    assert found.isolated[1] == 1.0


def test_a_check_that_another_one_equals_or_covers_adds_nothing() -> None:
    """Of two equal ones the quicker stays; `outlet` parts all that `listen` and `listen-longer` do not, and more."""
    found = assess(pump(), "pump/no-flow")
    assert found.idle == (Idle("pump/listen-longer", "pump/listen", equal=True),)
    several = (
        "minutes: 2, answers: {a: {text: A, when: {not: turns}}, "
        "b: {text: B, when: {all: [turns, {not: flow}]}}, c: {text: C, when: otherwise}}"
    )
    covered = pump(("reads: flow, minutes: 2", several))
    assert assess(covered, "pump/no-flow").idle == (
        Idle("pump/listen", "pump/outlet", equal=False),
        Idle("pump/listen-longer", "pump/outlet", equal=False),
    )


def test_a_check_that_errs_less_often_adds_something() -> None:
    """Of two that tell the same the surer one stays, however long it takes; each needs the other to be as sure."""
    unsure = pump(("reads: turns, by: crew}", "reads: turns, false_no: 0.1, by: crew}"))
    assert assess(unsure, "pump/no-flow").idle == (Idle("pump/listen", "pump/listen-longer", equal=True),)
    outlet = (
        "error: 0.1, minutes: 2, answers: {a: {text: A, when: {not: turns}}, "
        "b: {text: B, when: {all: [turns, {not: flow}]}}, c: {text: C, when: otherwise}}"
    )
    more = pump(("reads: flow, minutes: 2", outlet))
    assert assess(more, "pump/no-flow").idle == (Idle("pump/listen-longer", "pump/listen", equal=True),)


def test_a_check_that_shows_the_same_whatever_is_wrong_is_not_counted() -> None:
    assert "pump/paint" not in assess(pump(), "pump/no-flow").telling


def test_a_symptom_without_single_faults_has_no_fractions() -> None:
    found = assess(pump(), "pump/both")
    assert found.matrix.causes == ()
    assert found.detected is None
    assert found.isolated == {1: None, 2: None, 3: None}
    assert found.to_dict()["groups"] == found.to_dict()["unrevealed"] == found.to_dict()["idle_checks"] == []


def test_plain_data_says_what_each_fraction_is_of() -> None:
    data = assess(pump(), "pump/no-flow", by=["line", "crew"]).to_dict()
    assert data["groups"] == [["pump/worn", "pump/leak"]]
    assert data["isolated"] == {"1": pytest.approx(0.25), "2": 1.0, "3": 1.0}
    assert "single faults" in str(data["detected_of"])
    assert "reveals" in str(data["isolated_of"])


# ---- against enumeration -------------------------------------------------------------------------

MANY = Size(fault_sets=5000, nodes=14, checks=5)
"""Single faults are few, however many sets they make."""

LIBRARIES = 80


def _held_against(found: Testability, single: Single) -> None:
    """Groups, items, unrevealed causes and fractions by their definitions, pair by pair."""
    causes = single.causes
    assert set(found.matrix.causes) == set(causes)
    alike = {one: frozenset(other for other in causes if single.alike(one, other)) for one in causes}
    assert {frozenset(group) for group in found.groups} == {group for group in alike.values() if len(group) > 1}
    units = {one: frozenset(unit_of(single.library, other) for other in alike[one]) for one in causes}
    assert {frozenset(group) for group in found.item_groups} == {some for some in units.values() if len(some) > 1}
    seen = [one for one in causes if single.revealed(one)]
    assert set(found.unrevealed) == set(causes) - set(seen)
    assert found.detected == _share(single, seen, causes)
    for size in SIZES:
        assert found.isolated[size] == _share(single, [one for one in seen if len(units[one]) <= size], seen)


def _share(single: Single, some: list[str], of: list[str]) -> object:
    weights = {name: cause.probability for name, cause in single.library.causes.items()}
    return pytest.approx(fsum(weights[one] for one in some) / fsum(weights[one] for one in of)) if of else None


def _idle_held_against(found: Testability, single: Single) -> None:
    """What a check parts is a set of pairs; it adds nothing where another check parts all of these."""
    parts = {name: single.parted(name) for name in found.matrix.checks}
    assert set(found.telling) == {name for name, pairs in parts.items() if pairs}
    for one in found.idle:
        assert parts[one.check] <= parts[one.beside]
        assert errs(single.library, one.beside) <= errs(single.library, one.check)
        assert one.equal == (parts[one.check] == parts[one.beside])
    left = set(found.telling) - {one.check for one in found.idle}
    for name, other in permutations(left, 2):
        assert not (parts[name] <= parts[other] and errs(single.library, other) <= errs(single.library, name))
    for one in found.idle:
        if one.equal and errs(single.library, one.beside) == errs(single.library, one.check):
            assert minutes_of(single.library, one.beside) <= minutes_of(single.library, one.check)


@pytest.mark.parametrize("seed", range(LIBRARIES))
def test_random_libraries(seed: int) -> None:
    """Every figure agrees with its definition, by enumeration of single faults, for all checks and for some."""
    library = random_library(random.Random(seed), MANY).library
    for symptom in library.symptoms:
        for by in (None, ("line", "shop")):
            found = assess(library, symptom, by)
            single = Single(library, symptom, by)
            _held_against(found, single)
            _idle_held_against(found, single)


def test_the_random_libraries_show_every_kind_of_result() -> None:
    """The comparison above looks at something: groups, unrevealed causes, idle checks, fractions between 0 and 1."""
    found = [
        assess(library, symptom)
        for library in (random_library(random.Random(seed), MANY).library for seed in range(LIBRARIES))
        for symptom in library.symptoms
    ]
    assert sum(len(one.groups) > 0 for one in found) > 10
    assert sum(len(one.item_groups) > 0 for one in found) > 10
    assert sum(len(one.unrevealed) > 0 for one in found) > 10
    assert {idle.equal for one in found for idle in one.idle} == {True, False}
    assert sum(one.isolated[1] not in (None, 0.0, 1.0) for one in found) > 5
    assert any(one.isolated[1] != one.isolated[2] for one in found)
