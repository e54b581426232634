"""Ways of saying the same thing come out in one form, and opposites in two."""

from __future__ import annotations

import pytest

from faultree.journal.crew_words import plain, shared


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("the boards didn't pop up", "spoilers failed to deploy"),
        ("no green light", "the green light never came on"),
        ("lamp won't go out", "light stays on"),
        ("slat", "leading edge"),
        ("system two", "system 2"),
        ("radalt reads zero", "radio altimeter reads 0"),
        ("RTO", "rejected takeoff"),
        ("flap gauge", "flap indicator"),
        ("speed brakes", "airbrakes"),
    ],
)
def test_the_same_thing_in_other_words(one: str, other: str) -> None:
    left, right = set(shared(one).split()), set(shared(other).split())
    assert left <= right or right <= left


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("the light is on", "the light is off"),
        ("the spoilers came up", "the spoilers did not come up"),
        ("the flaps retract", "the flaps will not retract"),
        ("system 1", "system 2"),
    ],
)
def test_opposites_stay_apart(one: str, other: str) -> None:
    assert shared(one) != shared(other)


def test_any_text_can_be_read() -> None:
    for text in ("", "   ", "!!!", "\x00", "אור", "x" * 10_000, "(((((", "\\1 [a-"):
        assert shared(plain(text)) == shared(text)


@pytest.mark.parametrize("typed", ["flaps wouldnt come out", "flaps wuldnt come out", "flaps didnt come out"])
def test_a_not_that_was_typed_in_a_hurry_is_one(typed: str) -> None:
    assert "notdeploy" in shared(typed)
    assert shared("lamp wont go out") == shared("lamp won't go out")
