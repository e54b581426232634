"""An entry says in words what happened, as it was worded when it happened."""

from __future__ import annotations

import pytest

from faultree.reports.log import said


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({"check": "s/a", "answer": "no", "title": "look", "found": "Dark"}, "look: Dark"),
        ({"check": "s/a", "answer": "no"}, "s/a: no"),
        ({"repair": "s/p", "gone": True, "title": "pump"}, "put right: pump: the symptom is gone"),
        ({"repair": "s/p", "gone": None}, "put right: s/p: cannot tell whether the symptom is gone"),
        ({"taken_back": {"check": "s/a", "answer": None}}, "taken back: s/a: cannot tell"),
        ({"contradicts": {"check": "s/a", "answer": "no"}}, "contradicts the other answers: s/a: no"),
        ({"note": "seal worn"}, "noted: seal worn"),
        ({"seen": False}, "the symptom could not be seen again"),
        ({"seen": True}, "the symptom was seen again"),
        ({"missing": "multimeter"}, "not available: multimeter"),
        ({"missing": ""}, "not available: nothing any more"),
        ({"closed": "panel"}, "closed or taken out again: panel"),
        ({"begun": ["s/x"]}, ""),
        ({}, ""),
    ],
)
def test_each_kind_of_entry(data: dict[str, object], words: str) -> None:
    assert said(data) == words
