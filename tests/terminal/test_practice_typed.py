"""A typed line means an event, a list to show, leaving, or a question back; nothing is guessed."""

from __future__ import annotations

import pytest

from faultree.practice import events as ev
from faultree.practice import exercise as ex
from faultree.practice.view import check_options, unit_options
from faultree.terminal.practice_typed import COMMANDS, Away, Meant, Show, Unclear, possible, understand
from tests.terminal.practised import exercise


def meant(line: str, mode: ex.Mode = "coached", *, listed: str = "") -> Meant:
    begun = exercise(mode=mode)
    options = {"checks": check_options, "parts": unit_options}
    shown = options[listed](begun) if listed else ()
    return understand(line, begun, shown, listed == "parts")


@pytest.mark.parametrize(
    ("line", "event"),
    [
        ("listen", ev.Ask("g/listen")),
        ("g/listen", ev.Ask("g/listen")),
        ("CHECK  Gauge", ev.Ask("g/gauge")),
        ("look into", ev.Ask("g/look-in")),
        ("read the gauge", ev.Ask("g/gauge")),
        ("look", ev.Look()),
        ("retest", ev.Look()),
        ("read", ev.Read()),
        ("ok", ev.Read()),
        ("skip", ev.Skip()),
        ("back", ev.Leave()),
        ("hint", ev.Hint()),
        ("undo", ev.TakeBack()),
        ("replace pump", ev.PutRight("g/pump")),
        ("put right hose", ev.PutRight("g/leak")),
        ("replace motor dead", ev.PutRight("g/motor")),
        ("hand over", ev.HandOver()),
        ("hand over none", ev.HandOver()),
        ("handover valve stuck", ev.HandOver("g/valve")),
        ("checks", Show("checks")),
        ("checks mat", Show("checks", "mat")),
        ("parts all", Show("parts", "all")),
        ("found", Show("found")),
        ("suspects", Show("suspects")),
        ("?", Show("help")),
        ("report", Show("report")),
        ("quit", Away()),
    ],
)
def test_what_a_line_means(line: str, event: Meant) -> None:
    assert meant(line) == event


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("", "Nothing was typed"),
        ("check", "Which one?"),
        ("replace", "Which one?"),
        ("wombat", "No check left fits 'wombat'"),
        ("replace wombat", "Nothing that could be put right fits 'wombat'"),
        ("hand over wombat", "Nothing fits 'wombat'; name a part, or none."),
        ("the", "'the' can be one of these checks; its number makes it:"),
        ("replace e", "Nothing that could be put right fits 'e'"),
        ("wombat it", "No check left fits"),
        ("7", "Type checks or parts for a list first."),
        ("possible pump", "'possible' is not possible in the mode coached"),
    ],
)
def test_what_is_unclear_is_asked_back(line: str, words: str) -> None:
    found = meant(line)
    assert isinstance(found, Unclear)
    assert found.text.startswith(words)


def test_a_number_belongs_to_the_list_shown_last() -> None:
    assert meant("1", listed="checks") == ev.Ask("g/listen")
    assert meant("1", listed="parts") == ev.PutRight("g/pump")
    assert meant("replace 2", listed="parts") == ev.PutRight("g/valve")
    assert meant("check 2", listed="checks") == ev.Ask("g/gauge")
    found = meant("99", listed="checks")
    assert isinstance(found, Unclear)
    assert found.text == "The list has the numbers 1 to 4."


@pytest.mark.parametrize(
    ("line", "units"),
    [("possible pump", "g/pump"), ("possible hose, Pump dry ,motor", "g/leak,g/pump,g/motor"), ("possible none", "")],
)
def test_what_is_still_possible_is_named_by_parts_or_their_causes(line: str, units: str) -> None:
    assert meant(line, "blind") == ev.Possible(units)
    assert meant(line, "exam") == ev.Possible(units)


@pytest.mark.parametrize(("line", "words"), [("possible", "Name parts"), ("possible pump, qq", "Nothing fits 'qq'.")])
def test_what_is_named_unclearly_is_asked_back(line: str, words: str) -> None:
    found = meant(line, "blind")
    assert isinstance(found, Unclear)
    assert found.text.startswith(words)


def test_each_mode_has_its_commands() -> None:
    """Hints and suspects only where coached; nothing is taken back in an exam."""
    words = {mode: {one.word for one in possible(mode)} for mode in ex.MODES}
    assert words["coached"] - words["blind"] == {"suspects", "hint"}
    assert words["blind"] - words["coached"] == {"possible"}
    assert words["blind"] - words["exam"] == {"undo"}
    assert not words["exam"] - words["blind"]


def test_no_word_stands_for_two_commands() -> None:
    words = [word for one in COMMANDS for word in (one.word, *one.others)]
    assert len(set(words)) == len(words)
