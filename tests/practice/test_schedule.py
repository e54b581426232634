"""Spaced repetition: what went well comes later and harder, what went badly comes again soon."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from faultree.base.errors import CaseError
from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.practice.schedule import DAYS, Done, cards, following
from tests.practice.small import GATE

NOW = datetime(2031, 5, 4, 12, tzinfo=UTC)


def library() -> Library:
    """Two systems with two symptoms each."""
    more = GATE + "  slow: {title: The gate is slow, sees: {moves: no}}\n"
    return load_texts({"a.yaml": more, "b.yaml": more})


def done(symptom: str, days_ago: float, mark: float) -> Done:
    return Done(symptom, NOW - timedelta(days=days_ago), mark)


def test_a_good_mark_moves_a_card_on_and_a_bad_one_back() -> None:
    """Leitner's rule: on by one box, back to the first."""
    runs = [done("a/still", 9, 90), done("a/still", 8, 85), done("a/still", 7, 95)]
    assert cards(library(), runs)["a/still"].box == 3
    assert cards(library(), [*runs, done("a/still", 1, 40)])["a/still"].box == 0
    assert cards(library(), [done("a/still", 9 - one, 100) for one in range(9)])["a/still"].box == len(DAYS) - 1


def test_the_order_in_which_runs_are_given_does_not_matter() -> None:
    runs = [done("a/still", 3, 90), done("a/still", 1, 20), done("b/slow", 2, 90)]
    assert cards(library(), runs) == cards(library(), runs[::-1])


def test_what_is_due_in_the_lowest_box_comes_first() -> None:
    runs = [done("a/still", 30, 90), done("a/slow", 3, 20), done("b/still", 5, 20), done("b/slow", 0, 10)]
    found = following(library(), runs, NOW)
    assert (found.symptom, found.level) == ("b/still", 1)
    assert found.why == "due again: box 1 of 5"


def test_a_box_waits_twice_as_long_as_the_one_before() -> None:
    card = cards(library(), [done("a/still", 1, 90)])["a/still"]
    assert card.due == NOW - timedelta(days=1) + timedelta(days=2)


def test_something_new_comes_from_the_system_that_went_worst() -> None:
    runs = [done("a/still", 0, 90), done("b/still", 0, 30)]
    assert following(library(), runs, NOW).symptom == "b/slow"
    assert following(library(), [], NOW) == ("a/still", 1, "not practised yet")


def test_with_nothing_due_and_nothing_new_the_soonest_comes() -> None:
    runs = [done(name, 0, mark) for name, mark in (("a/still", 90), ("a/slow", 90), ("b/still", 10), ("b/slow", 90))]
    found = following(library(), runs, NOW)
    assert (found.symptom, found.why) == ("b/still", "nothing is due; this one comes next")


def test_a_higher_box_is_set_at_a_higher_level() -> None:
    runs = [done("a/still", 40 - one, 100) for one in range(5)]
    assert following(library(), runs, NOW)[:2] == ("a/still", 4)


def test_without_a_symptom_there_is_nothing_to_practise() -> None:
    with pytest.raises(CaseError, match="hold no symptom"):
        following(load_texts({"a.yaml": "faultree: 1\ntitle: A"}), [], NOW)
