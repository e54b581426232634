"""The work of guessing what was meant is bounded, and references have one form."""

from __future__ import annotations

import pytest

from faultree.library.findings import Findings, Guesses
from faultree.library.marked import Scalar


def test_guesses_stop_when_their_work_is_used_up() -> None:
    """A file of wrong names cannot keep the reader busy: so many options are compared and no more."""
    guesses = Guesses()
    options = ["left-sensor", *(f"other-{i}" for i in range(Guesses.MOST - 1))]
    assert guesses.meant("lft-sensor", options) == "left-sensor"
    assert guesses.meant("lft-sensor", options) is None


def test_a_very_long_name_is_not_compared() -> None:
    """The time of a comparison grows with the square of the length."""
    assert Guesses().meant("a" * 1000, ["a" * 999]) is None


@pytest.mark.parametrize(("written", "full"), [("x", "sys/x"), ("sys/x", "sys/x"), ("other/x", "other/x")])
def test_a_reference_is_kept_with_its_full_id(written: str, full: str) -> None:
    found = Findings("sys.yaml", "sys")
    assert found.refer("node", written, Scalar(written, True, 3, 5)) == full
    (reference,) = found.references
    assert (reference.written, reference.full, str(reference.place)) == (written, full, "sys.yaml:3:5")


@pytest.mark.parametrize("written", ["", "/", "x/", "/x", "a/b/c", "a b", "1/x", "a/1"])
def test_what_has_not_the_form_of_an_id_is_no_reference(written: str) -> None:
    found = Findings("sys.yaml", "sys")
    assert found.refer("node", written, Scalar(written, True, 3, 5)) is None
    assert not found.references
    assert "is not an id" in str(found.problems[0])
