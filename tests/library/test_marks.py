"""A mark changes where a figure could change, and nowhere else."""

from __future__ import annotations

import pytest

from faultree.library import marks
from faultree.library.load import load_texts
from faultree.library.model import Library
from tests.walk.small import SIGNAL, small


def _changed(before: str, after: str) -> Library:
    assert SIGNAL.count(before) == 1
    return load_texts({"signal.yaml": SIGNAL.replace(before, after)})


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("item: lamp, probability: 0.02", "item: lamp, probability: 0.03"),
        ("item: fuse, likelihood: probable", "item: fuse, likelihood: remote"),
        ("lost_if: [relay-open, wire-broken]", "lost_if: [relay-open]"),
        ("follows: powered, lost_if: [fuse-blown]", "follows: powered, forced_if: [fuse-blown]"),
        ("any: [relay-open, fuse-blown]}\n", "all: [relay-open, fuse-blown]}\n"),
        ("false_yes: 0.02", "false_yes: 0.03"),
        ("sees: {lit: no}", "sees: {lit: yes}"),
        ("extends: ready, sets: {pressed: yes}", "extends: ready, sets: {pressed: no}"),
        ("error: 0.05", "error: 0.04"),
        ("pressed: {title: the button is pressed}", "pressed: {title: the button is pressed, usually: yes}"),
    ],
)
def test_a_system_is_marked_anew_where_a_figure_may_change(before: str, after: str) -> None:
    """Likelihoods, logic, situations, and how sure a check is."""
    assert marks.systems(_changed(before, after)) != marks.systems(small())


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("title: signal lamp broken", "title: the signal lamp is broken"),
        ("minutes: 20", "minutes: 25"),
        ("place: left panel", "place: right panel"),
        ("Broken glass cuts.", "Glass cuts."),
        ("manual: SM 33-43", "manual: SM 33-44"),
        ("{text: Nothing, when", "{text: Not a sound, when"),
    ],
)
def test_what_no_figure_rests_on_is_not_marked(before: str, after: str) -> None:
    """Words, times, places, cautions and references."""
    assert marks.systems(_changed(before, after)) == marks.systems(small())


def test_a_check_is_marked_by_what_it_reads_and_where() -> None:
    """A situation that sets something else makes another check of it."""
    library = small()
    voltage, lamp = library.checks["signal/voltage"], library.checks["signal/supply-seen"]
    testing = library.settings(voltage.situation)
    assert marks.check(voltage, testing) == marks.check(voltage, dict(testing))
    assert marks.check(voltage, testing) != marks.check(voltage, {**testing, "signal/pressed": False})
    assert marks.check(voltage, testing) != marks.check(lamp, testing)
