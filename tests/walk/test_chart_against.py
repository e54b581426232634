"""A comparison in words: the figures of every course, and where each parts from the chart."""

from __future__ import annotations

from dataclasses import replace

from faultree.strategy.chart.against import Other, Parting
from faultree.walk.chart_against import OURS, PARTINGS, against_page
from tests.strategy.chart.by_hand import chart, repairs
from tests.walk.small import small

WAY = (("signal/click", "silence"), ("signal/supply-seen", "yes"))


def test_our_chart_stands_first_with_its_figures() -> None:
    """And what it leaves open."""
    other = replace(chart(), expected_minutes=30.0, worst_minutes=50.0, expected_checks=3.0)
    page = against_page(small(), chart(), [Other("mine.yaml", other, ())])
    ours, theirs = page.courses
    assert (ours.name, ours.expected, ours.worst, ours.checks, ours.open) == (OURS, 18.8, 28.0, 2.0, 0.5)
    assert (theirs.name, theirs.expected) == ("mine.yaml", 30.0)


def test_a_parting_tells_the_way_in_the_numbers_of_the_chart_and_what_each_does() -> None:
    """A step with its minutes, or an end with what is found or open there."""
    partings = (Parting((), 1.0, 1, 4), Parting(WAY, 0.2, 6, 5), Parting(WAY[:1], 0.4, 2, 3))
    (parts,) = against_page(small(), chart(), [Other("mine.yaml", chart(), partings)]).parts
    assert parts.places == (
        ("At the beginning", "listen to the relay (3 min)", "measure the voltage at the lamp (25 min)"),
        (
            "After 1 Nothing, 2 Yes (20 % of cases)",
            "the end, with signal relay, signal wire broken still open",
            "the end, with signal lamp found",
        ),
        ("After 1 Nothing (40 % of cases)", "look at the supply light (2 min)", "the end, with signal fuse found"),
    )
    assert parts.more == 0


def test_only_the_likeliest_partings_are_told() -> None:
    """The others are counted."""
    partings = tuple(Parting((), 1.0, 1, 4) for _ in range(PARTINGS + 3))
    (parts,) = against_page(small(), chart(), [Other("mine.yaml", chart(), partings)]).parts
    assert (len(parts.places), parts.more) == (PARTINGS, 3)


def test_replacements_are_named_as_such() -> None:
    """And the end of a chart that restores is the end."""
    partings = (Parting((), 1.0, 1, 2),)
    (parts,) = against_page(small(), repairs(), [Other("mine.yaml", repairs(), partings)]).parts
    assert parts.places[0][1:] == ("put right: signal fuse (10 min)", "the end")


def test_a_course_that_parts_where_the_one_before_it_does_is_not_told_twice() -> None:
    """Only its figures stand in the table."""
    parting = (Parting((), 1.0, 1, 4),)
    others = (Other("a", chart(), parting), Other("a, then carried on", chart(), parting, again=True))
    page = against_page(small(), chart(), others)
    assert len(page.courses) == 3
    assert [one.name for one in page.parts] == ["a"]
