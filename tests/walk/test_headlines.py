"""The sentences of an analysis say what is so, and no more."""

from __future__ import annotations

import pytest

from faultree.walk.headlines import headlines
from tests.strategy.matrices import pump
from tests.walk.analyses import SINGLES, analysis, measure, weighed

PAIR = weighed(0.0002, "pump/worn", "pump/leak")


def test_how_many_single_faults_and_which_no_check_separates() -> None:
    """The sentence that an instructor looks for first."""
    assert headlines(analysis())[0] == (
        "4 single faults cause this; no check made by the crew or the line separates “pump worn” from “pipe leaking”."
    )


def test_where_all_checks_are_admitted_no_check_is_no_check() -> None:
    """Only a choice of people is named: a check that others could make must not seem to be missing."""
    same = pump((", reads: leak", ", reads: flow"))
    assert "no check separates “pump worn” from “pipe leaking”" in headlines(analysis(by=None, library=same))[0]


def test_that_the_checks_tell_all_apart() -> None:
    assert headlines(analysis(by=None))[0] == "4 single faults cause this; the checks can tell all of them apart."
    two = pump(("lost_if: [worn, leak]", "lost_if: [worn]"), ("lost_if: [seized]", "lost_if: []"))
    assert headlines(analysis(by=("line",), library=two))[0] == (
        "2 single faults cause this; the checks made by the line can tell them apart."
    )


def test_a_large_group_is_named_by_its_likeliest() -> None:
    assert headlines(analysis(by=("line",)))[0] == (
        "4 single faults cause this; no check made by the line separates “pump worn”, “pump seized” and “pipe leaking”."
    )


def test_more_groups_than_one_are_counted() -> None:
    split = pump(
        ("turns: {title: pump turning, follows: on, lost_if: [seized]}", "turns: {title: T, follows: on}"),
        ("lost_if: [low]", "lost_if: [low, seized]"),
    )
    assert headlines(analysis(library=split))[0] == (
        "4 single faults cause this; no check made by the crew or the line separates “pump worn” from “pipe leaking”; "
        "1 more group of faults cannot be told apart either."
    )


def test_one_single_fault_is_named() -> None:
    one = pump(("lost_if: [worn, leak]", "lost_if: []"), ("lost_if: [seized]", "lost_if: []"))
    assert headlines(analysis(library=one, by=None))[0] == "1 single fault causes this: “gauge stuck low”."


def test_no_single_fault() -> None:
    said = headlines(analysis("pump/both", sets=(PAIR,)))
    assert said[:2] == (
        "No single fault causes this: it takes 2 at once.",
        "1 pair of faults causes it only together.",
    )
    assert not any("check" in one for one in said)


@pytest.mark.parametrize(
    ("orders", "words"),
    [
        ({1: 4}, ""),
        ({1: 4, 2: 3}, "3 pairs of faults cause it only together."),
        ({1: 4, 2: 1, 3: 2, 5: 1}, "1 pair of faults, 2 triples and 1 set of 5 cause it only together."),
        ({1: 4, 4: 2}, "2 sets of 4 faults cause it only together."),
    ],
)
def test_sets_are_counted_by_size(orders: dict[int, int], words: str) -> None:
    said = [one for one in headlines(analysis(orders=orders)) if "together" in one]
    assert said == ([words] if words else [])


def test_sets_that_could_not_be_counted_are_mentioned() -> None:
    orders = {1: 4, 2: 3}
    said = headlines(analysis(orders=orders, cut_off="all sets of more than 2 causes", known=False))
    assert "3 pairs of faults cause it only together. Larger sets are too many to count." in said
    assert "3 pairs of faults cause it only together." in headlines(analysis(orders=orders, cut_off="1 set"))


def test_the_likeliest_cause_and_equal_ones() -> None:
    assert "When it is reported, “pump worn” is the likeliest cause (40 %)." in headlines(analysis())
    equal = analysis(rows=(measure("pump/worn", 0.3), measure("pump/leak", 0.3), measure("pump/low", 0.2)))
    assert "When it is reported, “pump worn” and “pipe leaking” are the likeliest causes (30 % each)." in headlines(
        equal
    )


def test_no_likeliest_cause_where_none_is_likely() -> None:
    """Without rows, or where the symptom cannot come at all, nothing is likeliest."""
    assert not any("likeliest" in one for one in headlines(analysis(rows=())))
    assert not any("likeliest" in one for one in headlines(analysis(rows=(measure("pump/worn", 0.0),))))


def test_what_no_check_reveals() -> None:
    assert (
        "No check made by the crew or the line reveals “gauge stuck low”: each shows what it shows with nothing wrong."
        in headlines(analysis())
    )
    crew = headlines(analysis(by=("shop",), library=pump(("floor: {title: look at the floor, reads: leak", LAMP))))
    assert "The checks made by the shop reveal no single fault: each shows what it shows with nothing wrong." in crew


LAMP = "floor: {title: look at the lamp, reads: lit"


def test_that_each_fault_is_revealed() -> None:
    seen = pump(("paint: {title: look at the lamp, situation: running, reads: lit}", "paint: {title: T, reads: low}"))
    assert "Each of the single faults is revealed by some check." in headlines(analysis(by=None, library=seen))


def test_how_many_checks_add_nothing() -> None:
    assert headlines(analysis())[-1] == (
        "1 of the 3 checks that bear on single faults could be left out: another tells at least as much."
    )


def test_how_many_of_these_are_quicker() -> None:
    """A quick look may come first though a longer one tells as much."""
    unsure = pump(("reads: turns, by: crew}", "reads: turns, false_no: 0.1, by: crew}"))
    assert headlines(analysis(library=unsure))[-1] == (
        "1 of the 3 checks that bear on single faults could be left out: another tells at least as much, "
        "but takes longer."
    )
    several = (
        "minutes: 9, answers: {a: {text: A, when: {not: turns}}, "
        "b: {text: B, when: {all: [turns, {not: flow}]}}, c: {text: C, when: otherwise}}"
    )
    assert headlines(analysis(library=pump(("reads: flow, minutes: 2", several))))[-1] == (
        "2 of the 3 checks that bear on single faults could be left out: for each of them another tells at least as "
        "much; 1 of these is quicker than the other."
    )


def test_a_symptom_that_needs_no_fault_and_one_that_no_fault_makes() -> None:
    nothing = weighed(1.0)
    assert headlines(analysis(sets=(nothing,))) == (
        "This is there with nothing wrong at all, so no fault is needed to explain it.",
    )
    assert headlines(analysis(sets=())) == ("No set of faults in this library can cause this.",)


def test_singles_are_those_of_the_list() -> None:
    """The hand-made analysis agrees with the dependency matrix, so that the tests above speak of one thing."""
    assert {cause for one, _ in SINGLES for cause in one} == set(analysis().checks.matrix.causes)
