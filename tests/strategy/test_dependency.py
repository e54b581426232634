"""The dependency matrix: single faults, checks in their own situations, answers instead of 0 and 1."""

from __future__ import annotations

import random

import pytest

from faultree.belief.frame import frame_of
from faultree.library.load import load_texts
from faultree.strategy.dependency import dependency_matrix, producing
from tests.oracles.random_libraries import Size, random_library
from tests.strategy.matrices import Single, pump

SEVERAL = """
faultree: 1
title: Several answers
conditions:
  on: {title: switched on}
situations:
  off: {title: switched off, sets: {on: no}}
  running: {title: running, sets: {on: yes}}
causes:
  dark: {title: lamp dark, probability: 0.1}
  dim: {title: lamp dim, probability: 0.1}
  stuck: {title: switch stuck on, probability: 0.1}
signals:
  live: {title: lamp live, follows: on, forced_if: [stuck]}
  bright: {title: lamp bright, follows: live, lost_if: [dark, dim]}
checks:
  lamp:
    title: look at the lamp
    situation: running
    error: 0.2
    answers:
      dark: {text: Dark, when: dark}
      dim: {text: Dim, when: {all: [dim, {not: dark}]}}
      bright: {text: Bright, when: otherwise}
  lamp-off: {title: look at the lamp switched off, situation: off, reads: live}
symptoms:
  not-bright: {title: the lamp is not bright, situation: running, sees: {bright: no}}
  always: {title: the lamp is not bright when off, situation: off, sees: {bright: no}}
"""


def test_a_row_is_a_fault_that_alone_produces_the_symptom() -> None:
    assert dependency_matrix(pump(), "pump/no-flow").causes == ("pump/worn", "pump/seized", "pump/leak", "pump/low")
    assert dependency_matrix(pump(), "pump/both").causes == ()


def test_a_symptom_that_is_there_with_nothing_wrong_is_caused_by_no_single_fault() -> None:
    """The lamp is dark when it is switched off, whatever is broken: no fault explains that."""
    assert dependency_matrix(load_texts({"s.yaml": SEVERAL}), "s/always").causes == ()


def test_a_check_with_answers_keeps_them_apart_and_imperfect_ones_show_the_right_one() -> None:
    """Dark and dim are both abnormal, and different; that the look may err plays no part."""
    matrix = dependency_matrix(load_texts({"s.yaml": SEVERAL}), "s/not-bright")
    assert matrix.causes == ("s/dark", "s/dim")
    assert matrix.answers["s/lamp"] == ("dark", "dim")
    assert matrix.usual["s/lamp"] == "bright"


def test_a_check_is_looked_at_in_its_own_situation() -> None:
    """With the switch off the lamp is dead though the report comes from a running machine."""
    matrix = dependency_matrix(load_texts({"s.yaml": SEVERAL}), "s/not-bright")
    assert matrix.answers["s/lamp-off"] == ("no", "no")
    assert matrix.usual["s/lamp-off"] == "no"
    assert matrix.responding["s/dark"] == {"s/lamp"}


def test_only_checks_of_those_who_are_admitted() -> None:
    assert dependency_matrix(pump(), "pump/no-flow", by=["shop"]).checks == ("pump/floor",)


@pytest.mark.parametrize("seed", range(20))
def test_random_libraries(seed: int) -> None:
    """Every entry is the right answer that enumeration gives."""
    library = random_library(random.Random(seed), Size(fault_sets=5000, nodes=14)).library
    for symptom in library.symptoms:
        single, matrix = Single(library, symptom), dependency_matrix(library, symptom)
        assert list(producing(frame_of(library), symptom)) == single.causes
        assert matrix.usual == {check: single.shows(check) for check in library.checks}
        for cause in single.causes:
            assert matrix.rows[cause] == tuple(single.shows(check, cause) for check in library.checks)
