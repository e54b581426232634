"""The field of a case: its hypotheses, what checks show under them, and when it is not made."""

from __future__ import annotations

import random
from itertools import pairwise

import numpy as np
import pytest

from faultree.strategy import foresight as module
from faultree.strategy.case import Case
from faultree.strategy.foresight import Foresight, concerned, foresight, leading
from faultree.strategy.suppose import groups_of
from tests.belief.small import library
from tests.benchmarks.bench_advice import KINDS, drawn, library_of

BAY = """
access:
  bay: {title: open the bay, minutes: 15}
  door: {title: open the door, minutes: 5}
items:
  x: {title: X, minutes: 20, access: [bay]}
  y: {title: Y, minutes: 50}
causes:
  a: {title: A, item: x, probability: 3.0e-3}
  a2: {title: A2, item: x, probability: 1.0e-3}
  b: {title: B, item: y, probability: 2.0e-3}
  faint: {title: Faint, probability: 1.0e-6, minutes: 30}
events:
  top: {title: Top, any: [a, a2, b, faint]}
  either: {title: A or B, any: [a, b]}
checks:
  look: {title: Look, ask: Is it A?, reads: a, minutes: 4, access: [bay, door]}
  which:
    title: Which
    ask: Which is it?
    answers:
      left: {text: Left, when: a}
      right: {text: Right, when: b}
      neither: {text: Neither, when: otherwise}
    error: 0.1
    minutes: 3
  slight: {title: Slight, ask: Is it faint?, reads: faint, minutes: 1}
symptoms:
  reported: {title: Reported, event: top, retest: 10}
"""


@pytest.fixture(scope="module")
def case() -> Case:
    return Case.open(library(BAY), ["reported"])


def seen(case: Case, first: tuple[str, ...] = ()) -> Foresight:
    found = foresight(case._posterior, case._bench, case.checks(), first, case.opened, None)
    assert found is not None
    return found


def test_hypotheses_are_the_leading_causes_and_the_rest(case: Case) -> None:
    """3 to 1 to 2; what is too faint to lead has what they leave."""
    found = seen(case)
    assert [case._bench.units[place] for place in found.units] == ["s/x", "s/y"]
    assert found.weights[:3].tolist() == pytest.approx([1 / 2, 1 / 6, 1 / 3], abs=1e-3)
    assert found.weights.sum() == pytest.approx(1.0)
    assert 0.0 < found.weights[3] < 1e-3
    assert (found.knows("s/x"), found.knows("s/faint")) == (True, False)


def test_the_field_shows_every_answer_of_every_check_that_tells_the_leaders_apart(case: Case) -> None:
    found = seen(case)
    assert {one.check for one in found.checks} == {"s/look", "s/which"}
    field, place = found.field, [one.check for one in found.checks].index("s/which")
    rows = field.shows[field.outcomes[place]]
    truly = np.array([[0.9, 0.05, 0.05], [0.05, 0.05, 0.9], [0.05, 0.9, 0.05]])
    np.testing.assert_allclose(rows[:, :3].T, truly, atol=0.01)
    assert rows.sum(axis=0).tolist() == pytest.approx([1.0] * 4, abs=0.005)
    assert field.shows[field.outcomes[1 - place]][-1].tolist() == [0.0] * 4


def test_a_check_that_is_asked_for_first_is_in_the_field_whatever_it_tells(case: Case) -> None:
    assert {one.check for one in seen(case, ("s/slight",)).checks} == {"s/look", "s/which", "s/slight"}


def test_access_that_is_open_costs_nothing_in_the_field(case: Case) -> None:
    """What a check opened before is no longer a matter."""
    closed, opened = seen(case).field, seen(case.cannot_tell("look")).field
    assert closed.access.tolist() == [15.0, 5.0]
    assert closed.unit_needs.tolist() == [[True, False], [False, False]]
    assert opened.access.tolist() == []


def test_one_suspect_alone_needs_no_field(case: Case) -> None:
    sure = case.answer("look", "yes")
    assert leading(sure._posterior, sure._bench, None) is None


def test_too_much_work_means_no_field(case: Case, monkeypatch: pytest.MonkeyPatch) -> None:
    """By sizes and never by the clock; the advice is then that of one step ahead."""
    ahead = {one.check or one.item: one.expected_minutes for one in case.advice()}
    monkeypatch.setattr(module, "CELLS", 0)
    assert leading(case._posterior, case._bench, None) is None
    monkeypatch.setattr("faultree.strategy.advice.suppose", lambda *_: None)
    plain = {one.check or one.item: one.expected_minutes for one in case.advice()}
    assert plain.keys() == ahead.keys()
    assert all(plain[name] >= ahead[name] - 1e-9 for name in plain)


def test_groups_share_what_their_unit_has_to_do_with_the_report(case: Case) -> None:
    """Together as likely as the shares of the bench, which sum to 1 for a certain report."""
    groups = groups_of(case._posterior, case._bench)
    assert concerned(case._posterior, case._bench, groups).sum() == pytest.approx(1.0, abs=1e-4)


def test_more_checks_at_hand_never_take_longer() -> None:
    """On instances of one fault: every check that may be made further on can only help."""
    made = Case.open(library_of(drawn(random.Random(1), KINDS[0])), ["reported"])
    checks = sorted(made.checks(), key=lambda one: -one.bits / one.minutes)
    least = []
    for count in (1, 4, 12):
        found = foresight(made._posterior, made._bench, checks[:count], (), made.opened, None)
        assert found is not None
        least.append(found.minutes([checks[0].check], [])[0])
    assert all(later <= earlier + 1e-9 for earlier, later in pairwise(least))
