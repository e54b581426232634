"""All rules together: in the order of the files, on a part of a library, on the demonstration library, and fast."""

from __future__ import annotations

import time

import pytest

from faultree.belief.engine import Limits
from faultree.library.load import part_of
from faultree.strategy.lint.run import MOST_UNDECIDED, lint
from faultree.strategy.lint.table import RULES
from tests.strategy.lint.small import PUMP, after, everything, pump
from tests.trees.demonstration import library as demonstration

CLOSED = {rule.name for rule in RULES if rule.closed}


def test_the_demonstration_library_breaks_no_rule() -> None:
    """Each finding was mended, or is silenced with a reason."""
    assert lint(demonstration()) == ()


def test_it_takes_seconds_and_not_minutes() -> None:
    """The library of an aircraft is looked at while its author waits; measured without what others do meanwhile."""
    before = time.process_time()
    lint(demonstration())
    assert time.process_time() - before < 5.0


def test_findings_come_in_the_order_of_the_files() -> None:
    """With their place, their level and their rule."""
    changes = [
        ("reads: turns, manual: PM 4", "reads: turns"),
        ("manual: PM 2", "place: on the wall"),
        ("first: seized", "first: worn"),
    ]
    problems = lint(pump(*changes))
    assert [(one.place.line, one.level, one.rule) for one in problems] == sorted(
        (one.place.line, one.level, one.rule) for one in problems
    )
    assert [(one.level, one.rule) for one in problems] == [
        ("warning", "no-manual"), ("warning", "no-manual"), ("error", "example"),
    ]  # fmt: skip
    assert {one.place.file for one in problems} == {"pump.yaml"}


BROKEN = "faultree: 1\ntitle: Broken\nchecks:\n  look: {title: look, reads: pump/rust, minutes: long}\n"
LEANING = "faultree: 1\ntitle: Leaning\nsituations:\n  wet: {title: wet, extends: broken/dry}\n"


def test_a_part_of_a_library_is_not_blamed_for_what_may_be_in_the_rest() -> None:
    """Rust may well be read by the file that does not load; the missing manual is missing whatever is in it."""
    text = PUMP.replace(*after("causes", "rust: {title: rust, probability: 0.1}"))
    part = part_of({"pump.yaml": text, "broken.yaml": BROKEN, "leaning.yaml": LEANING})
    assert part is not None
    assert list(part.systems) == ["pump"]
    line = text.splitlines().index("  rust: {title: rust, probability: 0.1}") + 1
    manual = f"{line} no-manual: cause 'rust' has no reference to the manual; add 'manual: ...'"
    lost = f"{line} unreachable: no symptom and no check depends on cause 'rust'; use it or remove it"
    assert everything(part, whole=False) == [manual]
    assert everything(part) == [lost, manual]
    assert {"unreachable", "unrevealed", "silent-check", "no-effect", "same-effect", "no-example", "unused"} == CLOSED


def test_a_silence_of_a_rule_that_is_not_asked_is_not_idle() -> None:
    """Whether it silences something can only be said of the whole library."""
    known = pump(after("causes", "rust: {title: rust, probability: 0.1, manual: PM 1, x-quiet: {unrevealed: so}}"))
    assert "idle-quiet" not in " ".join(everything(known, whole=False))
    assert "idle-quiet" in " ".join(everything(known))


def test_what_cannot_be_decided_is_an_advice_and_can_be_silenced() -> None:
    narrow = Limits(cells=1)
    found = [one for one in lint(pump(), limits=narrow) if one.rule == "undecided"]
    assert {one.level for one in found} == {"advice"}
    assert any(one.message.startswith("cannot be decided: whether some causes produce") for one in found)
    head = ("title: A pump\n", "title: A pump\nx-quiet: {undecided: it is as wide as it is}\n")
    assert lint(pump(head), limits=narrow) == ()
    assert [one.rule for one in lint(pump(head))] == ["idle-quiet"]


@pytest.mark.parametrize("text", ["", "causes:\n", "conditions:\n  a: {title: a}\n"])
def test_a_file_that_is_just_begun_is_looked_at(text: str) -> None:
    """Nothing in it is wrong but what leads nowhere yet."""
    part = part_of({"new.yaml": f"faultree: 1\ntitle: New\n{text}"})
    assert part is not None
    assert {one.rule for one in lint(part)} <= {"unreachable"}


def test_of_many_questions_that_cannot_be_decided_the_first_ones_are_told() -> None:
    """The others are counted."""
    more = [
        line
        for number in range(9)
        for line in (f"more-{number}:", "  title: more", "  situation: running", "  sees: {flow: no, low: yes}")
    ]
    found = [one for one in lint(pump(after("symptoms", *more)), limits=Limits(cells=1)) if one.rule == "undecided"]
    told = [one.message for one in found if "produce" in one.message or "more" in one.message]
    assert len(told) == MOST_UNDECIDED + 1
    assert told[-1] == "cannot be decided: 5 more questions like the ones before"
