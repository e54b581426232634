"""A walk whose report turns out to be another one: answers stay, and those that contradict it count for nothing."""

from __future__ import annotations

import pytest

from faultree.base.errors import CaseError
from faultree.library.load import load_texts
from faultree.walk import saved
from faultree.walk.restated import AGAINST, restated
from tests.walk.small import DARK, SIGNAL, asked, walked

BRIGHT = load_texts(
    {
        "signal.yaml": SIGNAL.replace(
            "  button-lamp:",
            "  bright: {title: the lamp shines, situation: testing, sees: {lit: yes}}\n  button-lamp:",
        )
    }
)


def kept() -> dict[str, object]:
    return {**saved.pack(walked(*asked("voltage", "no"))), "library": BRIGHT.digest}


def test_answers_that_fit_are_kept_and_counted() -> None:
    walk = restated(BRIGHT, kept(), ["signal/button-lamp"])
    assert walk.open_case.symptoms == ("signal/button-lamp",)
    assert [one[0] for one in walk.open_case.steps] == ["signal/voltage"]
    assert (walk.unfit, walk.changes) == ((), ())


def test_an_answer_against_the_report_is_kept_and_counts_for_nothing() -> None:
    walk = restated(BRIGHT, kept(), ["signal/bright"])
    assert walk.open_case.steps == ()
    assert [(one.data["check"], one.because) for one in walk.unfit] == [("signal/voltage", AGAINST)]
    assert walk.changes == ()


def test_it_counts_again_where_the_report_is_the_first_one_again() -> None:
    there = saved.pack(restated(BRIGHT, kept(), ["signal/bright"]))
    back = restated(BRIGHT, there, [DARK])
    assert [one[0] for one in back.open_case.steps] == ["signal/voltage"]
    assert back.unfit == ()


def test_what_a_changed_tree_changes_is_still_told() -> None:
    walk = restated(BRIGHT, {**kept(), "library": "another"}, [DARK])
    assert walk.changes


def test_reports_that_fit_nothing_are_refused() -> None:
    with pytest.raises(CaseError, match="none of the reports"):
        restated(BRIGHT, kept(), ["signal/zebra"])
