"""The forms of the journal's fields: what the journal itself writes has them."""

from __future__ import annotations

import pytest

from faultree.journal import forms, tables
from faultree.journal.transfer import CSV_TABLES


def test_every_form_is_that_of_a_field() -> None:
    known = {(table.name, column.name) for table in tables.metadata.tables.values() for column in table.columns}
    assert set(forms.FORMS) <= known
    assert {name for name, _ in forms.FORMS} >= set(CSV_TABLES) - {"squawks"}


@pytest.mark.parametrize(
    ("table", "field", "value", "fits"),
    [
        ("cases", "day", "", True),
        ("cases", "day", "20310504", False),
        ("cases", "due", "", False),
        ("cases", "opened", "2031-05-04T12:00:00+00:00", True),
        ("cases", "opened", "2031-05-04T12:00:00", False),
        ("cases", "state", "no fault found", True),
        ("cases", "aircraft", "4 May", True),
        ("cases", "aircraft", "a\0", False),
        ("entries", "data", "[]", False),
        ("entries", "number", -1, False),
        ("runs", "mark", 77.5, True),
    ],
)
def test_forms(table: str, field: str, value: object, fits: bool) -> None:
    assert forms.fits(table, field, value) is fits
