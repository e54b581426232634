"""The words of a report, and what they mean."""

from __future__ import annotations

import pytest

from faultree.terminal.meant import Meant, Unclear
from faultree.terminal.typed import understand
from faultree.walk import events as ev
from faultree.walk.machine import start
from faultree.walk.state import Walk
from faultree.walk.view import prompt
from tests.walk.small import small, walked


def _meant(line: str, walk: Walk) -> Meant:
    return understand(line, prompt(walk), walk)


@pytest.mark.parametrize(
    ("line", "symptoms"),
    [
        ("1", ("signal/dark",)),
        ("1,2", ("signal/dark", "signal/doubly-bad")),
        ("1 2", ("signal/dark", "signal/doubly-bad")),
        ("dark", ("signal/dark",)),
        ("lamp out", ("signal/dark",)),
        ("doubly, dark", ("signal/doubly-bad", "signal/dark")),
        ("doubly and 1", ("signal/doubly-bad", "signal/dark")),
        ("signal/button-lamp", ("signal/button-lamp",)),
    ],
)
def test_reports_can_be_named_by_number_or_words_and_several_at_once(line: str, symptoms: tuple[str, ...]) -> None:
    """At the list of reports."""
    assert _meant(line, start(small())) == ev.Begin(symptoms)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("stays", "1 the signal lamp stays dark 3 the signal stays dark in the dark"),
        ("zebra", "No report fits 'zebra'"),
        ("1,9", "No report fits '9'"),
        (",", "No report"),
    ],
)
def test_reports_that_are_not_clear_are_asked_back(line: str, words: str) -> None:
    """With the numbers of those that fit."""
    meant = _meant(line, start(small()))
    assert isinstance(meant, Unclear)
    assert words in " ".join((meant.text, *meant.options))


def test_a_report_that_joins_is_chosen_where_several_fit() -> None:
    """Each of them comes with its event; what is in the case already is not offered."""
    meant = _meant("also lamp", walked())
    assert isinstance(meant, Unclear)
    assert meant.events == (ev.Also(("signal/doubly-bad",)), ev.Also(("signal/button-lamp",)))
    assert len(meant.options) == 2
