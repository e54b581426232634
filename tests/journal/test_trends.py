"""Trends are counted as one would count them by hand on a few cards."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from faultree.journal.records import Entry, Finding, Flight, Head, Record, Result, Squawk
from faultree.journal.trends import Removals, last_day, removals, repeats, untold, within, without_tree


def record(
    number: int,
    day: str = "2031-05-01",
    symptom: str | None = "s/still",
    units: tuple[tuple[str, Result], ...] = (),
    aircraft: str = "HM-VLA",
    answers: tuple[tuple[str, str | None], ...] = (),
) -> Record:
    head = Head(number, str(number), day, Flight(aircraft, f"HM {number}", day, "taxi"), "d", "debrief", "open", None)
    findings = tuple(Finding(n, day, "", unit, None, result, "") for n, (unit, result) in enumerate(units, 1))
    entries = tuple(
        Entry(n, day, "", "event", {"check": check, "answer": answer}) for n, (check, answer) in enumerate(answers, 1)
    )
    return Record(head, (Squawk(1, f"words {number}", symptom),), entries, findings)


def test_three_times_in_fifteen_days_is_a_repeat() -> None:
    near = [record(1, "2031-05-01"), record(2, "2031-05-08"), record(3, "2031-05-15")]
    (found,) = repeats(near)
    assert (found.what, found.kind, found.cases, found.first, found.last) == (
        "s/still", "symptom", (1, 2, 3), "2031-05-01", "2031-05-15"
    )  # fmt: skip
    assert repeats([*near[:2], record(3, "2031-05-16")]) == ()


def test_count_and_window_belong_to_the_operator() -> None:
    two = [record(1, "2031-05-01"), record(2, "2031-05-20")]
    assert repeats(two, count=2, window=15) == ()
    assert len(repeats(two, count=2, window=20)) == 1


def test_flights_can_be_counted_in_place_of_days() -> None:
    """Three flights that follow each other, however many days lie between them."""
    some = [record(1, "2031-01-01"), record(2, "2031-03-01"), record(3, "2031-06-01")]
    assert len(repeats(some, window=3, unit="flights")) == 1
    assert repeats(some, window=2, unit="flights") == ()


def test_a_longer_series_is_one_repeat() -> None:
    some = [record(number, f"2031-05-{day:02}") for number, day in enumerate((1, 3, 5, 7, 20, 22), 1)]
    (found,) = repeats(some)
    assert found.cases == (1, 2, 3, 4)


def test_other_aircraft_and_unknown_days_are_apart() -> None:
    assert repeats([record(1), record(2, aircraft="HM-VLB"), record(3, day="")], count=2) == ()


def test_the_same_unit_is_a_repeat_across_symptoms() -> None:
    some = [record(n, symptom=f"s/{n}", units=(("s/pump", "replaced"),)) for n in (1, 2, 3)]
    (found,) = repeats(some)
    assert (found.kind, found.what, found.cases) == ("unit", "s/pump", (1, 2, 3))


def test_a_unit_in_which_no_fault_was_found_is_no_repeat_defect() -> None:
    sound = [record(n, symptom=f"s/{n}", units=(("s/pump", "not found"),)) for n in (1, 2, 3)]
    assert repeats(sound) == ()


def test_the_same_cases_are_one_repeat_that_names_the_units() -> None:
    some = [record(n, units=(("s/pump", "confirmed"),) if n < 3 else (("s/valve", "replaced"),)) for n in (1, 2, 3)]
    (found,) = repeats(some, count=2)
    assert (found.kind, found.cases, found.units) == ("symptom", (1, 2, 3), (("s/pump", 2), ("s/valve", 1)))


def test_an_aircraft_is_the_same_however_it_is_written() -> None:
    some = [record(n, aircraft=name) for n, name in enumerate(("HM-VLA", "hm vla", "HMVLA"), 1)]
    (found,) = repeats(some)
    assert (found.aircraft, found.cases) == ("HMVLA", (1, 2, 3))


def test_the_share_without_a_fault_is_of_all_that_was_looked_into() -> None:
    some = [
        record(1, units=(("s/pump", "not found"), ("s/valve", "confirmed"))),
        record(2, units=(("s/pump", "replaced"),)),
        record(3, units=(("s/pump", "not found"),)),
    ]
    first, second = removals(some)
    assert (first, second) == (Removals("s/pump", 0, 1, 2), Removals("s/valve", 1, 0, 0))
    assert (round(first.share_not_found, 3), second.share_not_found) == (0.667, 0.0)


def test_reports_without_a_tree_keep_their_words() -> None:
    asked = record(2, symptom=None)
    none = Entry(9, "2031-05-01", "", "matched", {"squawk": 1, "symptom": None})
    asked = replace(asked, entries=(*asked.entries, none))
    assert without_tree([record(1), asked]) == (("words 2", 2),)


def test_a_squawk_that_nobody_was_asked_about_is_not_said_to_fit_nothing() -> None:
    assert without_tree([record(3, symptom=None)]) == ()


def test_checks_that_nobody_could_answer_come_first() -> None:
    some = [record(1, answers=(("s/a", None), ("s/b", "no"))), record(2, answers=(("s/a", "yes"), ("s/b", "no")))]
    assert untold(some) == (("s/a", 2, 1),)


def test_days_can_be_limited() -> None:
    some = [record(1, "2031-05-01"), record(2, "2031-06-01"), record(3, "")]
    assert [one.head.id for one in within(some, "2031-05-15", None)] == [2]
    assert [one.head.id for one in within(some, None, "2031-05-15")] == [1]
    assert len(within(some, None, None)) == 3


def test_a_deferral_is_counted_from_the_day_after() -> None:
    """Found on the 4th, ten days: the 5th is the first of them, the 14th the last."""
    assert last_day(date(2031, 5, 4), 10) == date(2031, 5, 14)
