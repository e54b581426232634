"""What cases teach: confirmed findings, units found good, and what was only put right counts for nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.journal.lessons import Lessons, lessons, remembered, taught
from faultree.journal.records import Entry, Flight, Head, Record, Result, Squawk
from faultree.journal.records import Finding as Found
from faultree.strategy.case import Case
from faultree.strategy.learning import Finding
from faultree.walk.scale import scale
from tests.walk.small import DARK, small

FUSE, LAMP, RELAY = "signal/fuse", "signal/lamp", "signal/relay"


def record(
    *found: tuple[str, str | None, Result], symptoms: tuple[str, ...] = (DARK,), origin: str = "debrief"
) -> Record:
    head = Head(1, "k", "2031-05-04", Flight(), "d", origin, "open", None)
    squawks = tuple(Squawk(n, "x", one) for n, one in enumerate(symptoms, 1))
    findings = tuple(Found(n, "", "", unit, cause, result, "") for n, (unit, cause, result) in enumerate(found, 1))
    return Record(head, squawks, (), findings)


def test_each_finding_counts_as_what_it_is() -> None:
    found = lessons(
        [
            record((FUSE, "signal/fuse-blown", "confirmed")),
            record((RELAY, None, "not found"), (LAMP, None, "confirmed")),
            record((FUSE, None, "replaced")),
        ],
        [DARK],
    )
    assert found.findings == (
        Finding(FUSE, "signal/fuse-blown", "confirmed"),
        Finding(LAMP, None, "confirmed"),
        Finding(RELAY, None, "not found"),
    )
    assert (found.cases, found.unconfirmed, found.invented) == (3, 1, 0)


def test_a_finding_counts_once_and_the_last_word_holds() -> None:
    """Confirmed twice is one finding; a unit found good first and confirmed later was at fault."""
    (twice,) = lessons([record((FUSE, None, "confirmed"), (FUSE, "signal/fuse-blown", "confirmed"))], [DARK]).findings
    assert twice == Finding(FUSE, "signal/fuse-blown", "confirmed")
    (later,) = lessons([record((RELAY, None, "not found"), (RELAY, None, "confirmed"))], [DARK]).findings
    assert later == Finding(RELAY, None, "confirmed")


def test_other_reports_teach_nothing_about_this_one() -> None:
    other = record((FUSE, None, "confirmed"), symptoms=("signal/button-lamp",))
    both = record((FUSE, None, "confirmed"), symptoms=(DARK, "signal/button-lamp"))
    assert lessons([other, both, record()], [DARK]) == Lessons((), 0, 0, 0)
    assert lessons([both], ["signal/button-lamp", DARK]).cases == 1


def test_the_library_says_that_it_was_taught() -> None:
    """Every result that rests on it says so, with the number of records."""
    found = lessons([record((FUSE, "signal/fuse-blown", "confirmed"), origin="demonstration")] * 6, [DARK])
    learnt = taught(small(), [DARK], found, strength=4.0)
    said = scale(Case.open(learnt.library, [DARK]))
    for words in (
        "History is in use, from 6 cases",
        "6 confirmed faults, 0 units with no fault found",
        "count as 4 findings",
        "6 of these cases are invented",
    ):
        assert words in said
    assert small().history == ""
    before, after = (Case.open(one, [DARK]).units()[0] for one in (small(), learnt.library))
    assert (before.unit, after.unit) == (LAMP, FUSE)


def test_without_findings_the_figures_are_the_authors() -> None:
    learnt = taught(small(), [DARK], lessons([record((FUSE, None, "replaced"))], [DARK]))
    assert "the journal holds no finding of the same report" in learnt.library.history
    assert "1 put right without confirmation" in learnt.library.history
    now = {one.cause: one.probability for one in Case.open(learnt.library, [DARK]).ranking()}
    for one in Case.open(small(), [DARK]).ranking():
        assert now[one.cause] == pytest.approx(one.probability, abs=1e-12)


def noted(text: str) -> Record:
    entry = Entry(1, "2031-05-04T12:00:00+00:00", "", "note", {"text": text})
    return replace(record((FUSE, None, "not found")), entries=(entry,))


def test_a_case_remembers_how_the_author_was_weighed_against_history() -> None:
    """By the very words that the debrief leaves in its log; asking in vain is remembered too."""
    learnt = taught(small(), [DARK], lessons([record((FUSE, "signal/fuse-blown", "confirmed"))], [DARK]), strength=2.5)
    assert remembered(noted(learnt.library.history)) == 2.5
    vain = taught(small(), [DARK], lessons([], [DARK]), strength=2.5)
    assert remembered(noted(vain.library.history)) == 10.0
    assert remembered(noted("seen again")) is None
    assert remembered(record((FUSE, None, "not found"))) is None


def test_findings_are_not_taken_for_cases() -> None:
    """One case with two findings: the sentence names both, and says that they are of one case."""
    found = lessons([record((FUSE, None, "not found"), ("signal/lamp", None, "confirmed"))], [DARK])
    said = taught(small(), [DARK], found).library.history
    assert "from 1 case of the same report (one may hold several findings): 1 confirmed fault, 1 unit with" in said


def test_invented_cases_teach_nothing_beside_real_ones() -> None:
    """They would move the ranking of a real case; it is said how many were left out."""
    real = record((FUSE, "signal/fuse-blown", "confirmed"))
    made = record((LAMP, None, "confirmed"), origin="demonstration")
    found = lessons([made, real, made], [DARK])
    assert (found.cases, found.invented, found.passed_over) == (1, 0, 2)
    assert [one.unit for one in found.findings] == [FUSE]
    assert "; 2 invented cases beside them are left out." in taught(small(), [DARK], found).library.history
    assert lessons([made, made], [DARK]).invented == 2
