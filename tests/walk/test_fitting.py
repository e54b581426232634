"""A saved step is found by its id, by its short id, or by its words where those mean one thing."""

from __future__ import annotations

import pytest

from faultree.base.errors import CaseError, UnknownName
from faultree.belief.evidence import Repair, Reply
from faultree.walk import fitting
from faultree.walk.state import Unfit
from tests.walk.small import DARK, small


@pytest.mark.parametrize(
    ("data", "step", "renamed"),
    [
        ({"check": "signal/click", "answer": "click"}, Reply("signal/click", "click"), 0),
        ({"check": "click", "answer": None}, Reply("signal/click", None), 0),
        (
            {"check": "signal/hear", "answer": "click", "title": "listen to the relay"},
            Reply("signal/click", "click"),
            1,
        ),
        ({"check": "signal/click", "answer": "tock", "found": "One clear click"}, Reply("signal/click", "click"), 1),
        ({"repair": "signal/lamp", "gone": False}, Repair("signal/lamp", False), 0),
        ({"repair": "signal/bulb", "gone": None, "title": "signal lamp"}, Repair("signal/lamp", None), 0),
    ],
)
def test_a_step_is_found(data: dict[str, object], step: Reply | Repair, renamed: int) -> None:
    """What had to be found by its words is noted."""
    notes: list[str] = []
    assert fitting.read_step(small(), data, notes) == step
    assert len(notes) == renamed


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        ({"check": "signal/hear", "answer": "click", "title": "hear"}, "check"),
        ({"check": "signal/click", "answer": "tock"}, "answer"),
        ({"repair": "signal/bulb", "gone": True}, "unit"),
    ],
)
def test_what_is_gone_is_named_by_its_kind(data: dict[str, object], kind: str) -> None:
    """So that the reason can be given in words."""
    with pytest.raises(UnknownName) as caught:
        fitting.read_step(small(), data, [])
    assert caught.value.kind == kind
    assert "no longer" in fitting.because(caught.value) or "any more" in fitting.because(caught.value)


@pytest.mark.parametrize("data", [7, {}, {"check": "signal/click"}, {"repair": "signal/lamp", "gone": "yes"}])
def test_what_has_not_the_form_of_a_step_is_refused(data: object) -> None:
    """With the remedy."""
    with pytest.raises(CaseError, match="write 'check' and 'answer', or 'repair' and 'gone'"):
        fitting.read_step(small(), data, [])


def test_steps_that_did_not_fit_stand_at_their_old_places() -> None:
    """Before the step that followed them; one that was answered anew stands last."""
    steps = [{"check": "a", "answer": None}, {"check": "b", "answer": None}]
    unfit = [Unfit(1, "gone", "steps", {"check": name, "answer": None}) for name in ("c", "b")]
    assert [one["check"] for one, _ in fitting.merged(steps, unfit)] == ["a", "c", "b", "b"]
    assert [again for _, again in fitting.merged(steps, unfit)] == [False, True, False, True]


def test_a_second_answer_to_a_check_does_not_count() -> None:
    """It would be new evidence where there is none."""
    twice = [({"check": "signal/click", "answer": "click"}, False)] * 2
    fitted = fitting.fit(small(), [{"symptom": DARK}], twice)
    assert len(fitted.case.steps) == 1
    assert fitted.unfit[0].because == "another step of the case says the same or has taken its place"
