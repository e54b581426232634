"""Days and phases as people write them: what can be read in two ways, or not at all, is asked again."""

from __future__ import annotations

from datetime import date

import pytest

from faultree.journal.flight_words import PHASES, day_of, phase_of

TODAY = date(2031, 5, 4)


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("2031-05-04", "2031-05-04"), ("today", "2031-05-04"), (" Yesterday ", "2031-05-03"),
        ("30/04/2031", "2031-04-30"), ("04/30/2031", "2031-04-30"), ("3.5.2031", "2031-05-03"),
        ("5/5/2030", "2030-05-05"), ("30-4-2031", "2031-04-30"), ("4 May 2031", "2031-05-04"),
        ("30apr2031", "2031-04-30"), ("30 April 2031", "2031-04-30"),
    ],
)  # fmt: skip
def test_a_day_is_read_as_it_is_written(typed: str, day: str) -> None:
    assert day_of(typed, TODAY).isoformat() == day


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("soon", "'soon' is no day; write it as 2031-05-04, today or yesterday"),
        ("2031-13-01", "'2031-13-01' is no day"), ("31/02/2031", "is no day"), ("4 Foo 2031", "is no day"),
        ("3/4/2031", "can be read in two ways, 2031-04-03 and 2031-03-04"),
        ("2031-05-05", "2031-05-05 is still to come; today is 2031-05-04"), ("", "is no day"),
        ("²/3/2031", "is no day"),
    ],
)  # fmt: skip
def test_a_day_that_cannot_be_says_why(typed: str, words: str) -> None:
    with pytest.raises(ValueError, match=r".") as caught:
        day_of(typed, TODAY)
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("typed", "phase"),
    [
        ("l", "landing"), ("TAX", "taxi"), ("take off", "take-off"), ("go around", "go-around"), ("hold", "holding"),
        ("Other:  in the  hangar", "other: in the hangar"), ("other", "other"), *((one, one) for one in PHASES),
    ],
)  # fmt: skip
def test_a_phase_may_be_shortened(typed: str, phase: str) -> None:
    assert phase_of(typed) == phase


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("landign", "did you mean 'landing'?"), ("xyzzy", "choose one of parked"),
        ("hovering", "did you mean 'holding'?"),
        ("t", "'t' can mean 'taxi' or 'take-off'"), ("p", "'p' can mean 'parked' or 'push-back'"),
        ("other:", "is no phase"),
    ],
)  # fmt: skip
def test_what_is_no_phase_is_not_kept(typed: str, words: str) -> None:
    with pytest.raises(ValueError, match=r".") as caught:
        phase_of(typed)
    assert words in str(caught.value)
