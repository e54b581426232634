"""The parts of a saved walk beside its case: each has its form, and names only what is there."""

from __future__ import annotations

import pytest

from faultree.base.errors import CaseError, UnknownName
from faultree.walk import parts
from faultree.walk.state import Remark, Sighting, Undone, Unfit
from faultree.walk.today import Lack
from tests.walk.small import small

WHOLE: dict[str, object] = {
    "notes": [{"after": 1, "text": "loose"}],
    "not_today": [{"tool": "multimeter"}, {"unit": "signal/fuse"}],
    "sightings": [{"after": 0, "seen": False}],
    "undone": [{"after": 2, "access": "signal/panel"}, {"after": 2, "caution": "signal/edges"}],
    "unfit": [{"after": 1, "because": "gone", "part": "steps", "data": {"check": "signal/x", "answer": None}}],
}


def test_everything_is_read() -> None:
    """In its own kind."""
    found = parts.read(small(), WHOLE, changed=False)
    assert found.notes == (Remark(1, "loose"),)
    assert found.not_today == (Lack("tool", "multimeter"), Lack("unit", "signal/fuse"))
    assert found.sightings == (Sighting(0, seen=False),)
    assert found.undone == (Undone(2, "access", "signal/panel"), Undone(2, "caution", "signal/edges"))
    assert found.unfit == (Unfit(1, "gone", "steps", {"check": "signal/x", "answer": None}),)


@pytest.mark.parametrize(
    ("key", "entry"),
    [
        ("not_today", 7),
        ("not_today", {"tool": "multimeter", "access": "signal/panel"}),
        ("not_today", {"weather": "rain"}),
        ("sightings", {"after": 0}),
        ("sightings", {"after": 0, "seen": "no"}),
        ("undone", {"access": "signal/panel"}),
        ("undone", {"after": 1, "door": "signal/panel"}),
        ("notes", {"after": 1}),
        ("unfit", {"after": 1, "because": "gone", "part": "steps"}),
    ],
)
@pytest.mark.parametrize("changed", [True, False])
def test_a_part_of_another_form_is_refused_in_words(key: str, entry: object, changed: bool) -> None:
    """Whether the tree has changed or not: that is a slip of the hand, not of the tree."""
    with pytest.raises(CaseError):
        parts.read(small(), {**WHOLE, key: [entry]}, changed=changed)
    with pytest.raises(CaseError, match="is no list"):
        parts.read(small(), {**WHOLE, key: entry}, changed=changed)


@pytest.mark.parametrize(
    ("key", "entry"),
    [
        ("not_today", {"tool": "torch"}),
        ("undone", {"after": 1, "access": "signal/door"}),
        ("undone", {"after": 1, "caution": "signal/hot"}),
        ("withdrawn", {"check": "signal/x", "answer": None}),
    ],
)
def test_a_name_that_is_gone_is_kept_only_where_the_tree_has_changed(key: str, entry: dict[str, object]) -> None:
    """In an unchanged tree it is a misspelling, and the message says what comes close."""
    with pytest.raises(UnknownName):
        parts.read(small(), {key: [entry]}, changed=False)
    (kept,) = parts.read(small(), {key: [entry]}, changed=True).unfit
    assert (kept.part, kept.data) == (key, entry)
    assert "any more" in kept.because or "no longer in the tree" in kept.because
