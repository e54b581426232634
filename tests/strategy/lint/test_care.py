"""Cautions, manual references, likelihoods and titles: what a person needs who works on the system."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.library.model import Library
from faultree.strategy.lint.care import no_caution
from faultree.strategy.lint.study import Study
from tests.strategy.lint.small import after, found, pump
from tests.trees.demonstration import library as demonstration

ADD = "; add 'cautions', or say under 'x-quiet' why it needs none"
SAID = ", and no caution is shown before it"
CAUTIONED = ", cautions: [wet]}\n\nitems"
RUNNING = ("    situation: running\n    manual: PM 4\n    answers", "    manual: PM 4\n    answers")


def test_a_sound_file_is_no_finding() -> None:
    for rule in ("no-caution", "no-manual", "mostly-bad", "one-hour", "bare-answer", "title"):
        assert found(rule, pump()) == []


def check(title: str, more: str = "") -> Library:
    """The pump with one more check, of which nothing warns."""
    return pump(after("checks", f"extra: {{title: {title}, reads: leak, manual: PM 4{more}}}"))


@pytest.mark.parametrize(
    ("title", "said"),
    [
        ("run the pump from the test socket", "says 'run'"),
        ("Raise the float by hand", "says 'raise'"),
        ("look at the pipe with the pressure on", "says 'pressure on'"),
        ("look at the line under full pressure", "says 'under full pressure'"),
        ("listen with the engine running", "says 'engine running'"),
        ("look at the wheel on jacks", "says 'on jacks'"),
        ("measure the voltage at the pump", "says 'measure the voltage'"),
    ],
)
def test_words_of_movement_power_and_pressure_ask_for_a_caution(title: str, said: str) -> None:
    assert found("no-caution", check(title)) == [f"check 'extra' {said}{SAID}{ADD}"]
    assert found("no-caution", check(title, ", cautions: [wet]")) == []
    assert found("no-caution", check(title, ", situation: running")) == []


@pytest.mark.parametrize(
    "title",
    ["look at the pump", "read the pressure gauge", "ask whether the pump was running", "measure the gap",
     "look at the pushed button", "press the lamp test button"],
)  # fmt: skip
def test_looking_reading_and_asking_ask_for_none(title: str) -> None:
    assert found("no-caution", check(title)) == []


def test_the_caution_of_an_access_counts() -> None:
    """It is shown before the check that needs the access."""
    for cautions, count in (("", 1), (", cautions: [wet]", 0)):
        access = ("\ncautions:\n", f"\naccess:\n  lid: {{title: open the lid{cautions}}}\ncautions:\n")
        run = after("checks", "extra: {title: run the pump, reads: leak, manual: PM 4, access: [lid]}")
        assert len(found("no-caution", pump(access, run))) == count


def test_a_situation_that_is_not_as_usual_asks_for_a_caution() -> None:
    """Somebody has to bring it about, unless a crew is asked what it was like."""
    quiet = ("sets: {on: yes}, cautions: [wet]}", "sets: {on: yes}}")
    said = f"is made where 'on' is not as usual{SAID}{ADD}"
    assert found("no-caution", pump(quiet)) == [f"check 'listen' {said}", f"check 'outlet' {said}"]
    crew = ("listen to the pump, situation: running", "listen to the pump, by: crew, situation: running")
    assert found("no-caution", pump(quiet, crew)) == [f"check 'outlet' {said}"]


def test_access_and_items_can_need_a_caution() -> None:
    access = ("\ncautions:\n", "\naccess:\n  jack: {title: jack the pump up}\ncautions:\n")
    bare = ("manual: PM 1, cautions: [wet]}", "manual: PM 1}")
    assert found("no-caution", pump(access, bare)) == [
        f"access 'jack' moves or powers something{SAID}{ADD}",
        f"item 'pump' is replaced without a caution, and its title says 'pump'{ADD}",
    ]


def test_the_rule_of_thumb_is_as_good_as_the_page_says() -> None:
    """On the demonstration library: silent as it is, and 73 of 109 without its cautions."""
    known = demonstration()
    assert list(no_caution(Study(known))) == []
    bare = replace(
        known,
        checks={name: replace(one, cautions=()) for name, one in known.checks.items()},
        situations={name: replace(one, cautions=()) for name, one in known.situations.items()},
        access={name: replace(one, cautions=()) for name, one in known.access.items()},
    )
    warned = {one for one in known.checks if _cautions(known, one)}
    hit = {one.entry.id for one in no_caution(Study(bare))} & set(known.checks)
    assert hit <= warned
    assert len(hit) / len(warned) > 0.6


def _cautions(library: Library, name: str) -> set[str]:
    one = library.checks[name]
    situation = library.situations[one.situation].cautions if one.situation else ()
    return {
        *one.cautions,
        *situation,
        *(caution for access in one.access for caution in library.access[access].cautions),
    }


def test_what_is_done_needs_a_manual_reference() -> None:
    """A check, an item, and a cause that is put right itself; a cause of an item has that of the item."""
    changes = [
        ("item: gauge, probability: 0.01", "item: gauge, probability: 0.01, note: no manual of its own"),
        ("probability: 0.01, manual: PM 3", "probability: 0.01"),
        ("manual: PM 2", "place: on the wall"),
        ("reads: turns, manual: PM 4", "reads: turns"),
    ]
    assert found("no-manual", pump(*changes)) == [
        f"{what} has no reference to the manual; add 'manual: ...'"
        for what in ("item 'gauge'", "cause 'leak'", "check 'listen'")
    ]


LOWER = "; lower the likelihoods: they say how often it is bad when the symptom is reported"


def test_an_item_is_more_often_good_than_bad() -> None:
    """The causes of an item count together."""
    assert found("mostly-bad", pump(("item: pump, probability: 0.02", "item: pump, probability: 0.485"))) == []
    changes = [
        ("item: pump, probability: 0.02", "item: pump, probability: 0.492"),
        ("title: pipe leaking, probability: 0.01", "title: pipe leaking, probability: 0.6"),
    ]
    assert found("mostly-bad", pump(*changes)) == [
        f"item 'pump' is bad with a probability of 50 %{LOWER}",
        f"cause 'leak' is bad with a probability of 60 %{LOWER}",
    ]


@pytest.mark.parametrize(("more", "count"), [("", 1), (", hours: 1", 1), (", hours: 300", 0)])
def test_a_rate_has_the_hours_it_counts_for(more: str, count: int) -> None:
    """Left out, they are one hour, and the cause seems hundreds of times rarer than it is."""
    said = found("one-hour", pump(("item: pump, probability: 0.02", f"item: pump, rate: 2e-6{more}")))
    hint = "give the flight hours since it was last known to be good: hours: 500"
    assert said == [f"the rate of cause 'worn' counts for 1 hour; {hint}"] * count


def test_a_bare_no_behind_a_title_with_whether_is_the_answer_to_another_question() -> None:
    """Only where the question stands apart, and only where neither answer has words of its own."""
    asking = "title: ask whether the pipe is dry, reads: leak, manual: PM 4"
    bare = found("bare-answer", pump(after("checks", f"extra: {{{asking}, ask: Is it wet?}}")))
    assert [one.partition(",")[0] for one in bare] == ["the title of check 'extra' says 'whether'"]
    for sound in ("", ", ask: Is it wet?, yes: It is wet", ", ask: Is it wet?, no: It is dry"):
        assert found("bare-answer", pump(after("checks", f"extra: {{{asking}{sound}}}"))) == []
    assert found("bare-answer", check("look at the pipe", ", ask: Is it wet?")) == []


WITHIN = "titles are shown within sentences"


@pytest.mark.parametrize(
    ("title", "said"),
    [
        ("flow shown.", [f"the title of signal 'shown' ends with '.'; leave it out: {WITHIN}"]),
        ("flow shown?", [f"the title of signal 'shown' ends with '?'; leave it out: {WITHIN}"]),
        ("Flow shown", [f"the title of signal 'shown' begins with a capital: 'Flow'; write 'flow': {WITHIN}"]),
        ("FLOW lamp on", []),
        ("Zeta shown", []),
        ("A jet shown", []),
    ],
)
def test_a_title_reads_within_a_sentence(title: str, said: list[str]) -> None:
    """A word that the file never writes small may be a name, and a single letter says nothing."""
    assert found("title", pump(("title: flow shown", f"title: {title}"))) == said


def test_a_name_is_left_alone() -> None:
    """What is written with a capital within a text is a name, be it also a word."""
    changes = [
        ("title: flow shown", "title: Flow shown"),
        ("title: gauge stuck low", "title: the Flow gauge stuck low"),
    ]
    assert found("title", pump(*changes)) == []
