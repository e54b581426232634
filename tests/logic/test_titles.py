"""Titles turned around: an instructor could sign them, and no word of the author's is lost."""

from __future__ import annotations

import pytest

from faultree.library.load import load
from faultree.logic.titles import denied, forced, lost, title_of

TREES = load("trees")

WORDED = [
    # the state of a thing is denied where it begins
    ("raise relay closed", "raise relay not closed", "raise relay closed when it should not be"),
    ("lever in ARM sensed", "lever in ARM not sensed", "lever in ARM sensed when it should not be"),
    ("AC bus tie able to close", "AC bus tie not able to close", "AC bus tie able to close when it should not be"),
    ("feel cable too tight", "feel cable not too tight", "feel cable too tight when it should not be"),
    ("raised lever held where it was left", "raised lever not held where it was left",
     "raised lever held where it was left when it should not be"),
    ("left slats out", "left slats not out", "left slats out when they should not be"),
    ("left rotating beacon on", "left rotating beacon not on", "left rotating beacon on when it should not be"),
    ("left bearing worn", "left bearing not worn", "left bearing worn when it should not be"),
    ("mixing valve stuck shut", "mixing valve not stuck shut", "mixing valve stuck shut when it should not be"),
    ("rack stripped so that vents hang open", "rack not stripped so that vents hang open",
     "rack stripped so that vents hang open when it should not be"),
    ("vents free to open", "vents not free to open", "vents free to open when they should not be"),
    ("water high in the bilge", "water not high in the bilge", "water high in the bilge when it should not be"),
    # so is a place
    ("hand switch of the vents at OPEN", "hand switch of the vents not at OPEN",
     "hand switch of the vents at OPEN when it should not be"),
    ("air below the set point", "air not below the set point", "air below the set point when it should not be"),
    ("control valve at OUT", "control valve not at OUT", "control valve at OUT when it should not be"),
    ("system 2 under pressure", "system 2 not under pressure", "system 2 under pressure when it should not be"),
    # of stuff there is none, and a thing is missing
    ("pressure at the pump", "no pressure at the pump", "pressure at the pump is present when it should not be"),
    ("command to run down", "no command to run down", "command to run down is present when it should not be"),
    ("raise command", "raise command is missing", "raise command is present when it should not be"),
    ("wheel chocks", "wheel chocks are missing", "wheel chocks are present when they should not be"),
    # what is counted is denied as a whole
    ("both lamps lit", "not both lamps lit", "both lamps lit when they should not be"),
    ("all six panels up", "not all six panels up", "all six panels up when they should not be"),
    ("at least one panel up", "no panel up", "at least one panel up when it should not be"),
    ("a panel sensed as up", "no panel sensed as up", "a panel sensed as up when it should not be"),
    ("two of three struts compressed", "fewer than two of three struts compressed",
     "two of three struts compressed when they should not be"),
    # a sentence takes the "not" after its verb
    ("The pump is running", "The pump is not running", "The pump is running when it should not be"),
    ("pump can start", "pump cannot start", "pump can start when it should not be"),
    # and what cannot be read beyond doubt stays whole
    ("The pump delivers", "not so: The pump delivers", "The pump delivers, which should not be so"),
    ("lever armed and thrust idle", "not so: lever armed and thrust idle",
     "lever armed and thrust idle when it should not be"),
    ("panels to be warned of", "not so: panels to be warned of", "panels to be warned of, which should not be so"),
    ("unit giving no signal", "not so: unit giving no signal", "unit giving no signal when it should not be"),
]  # fmt: skip


@pytest.mark.parametrize(("title", "gone", "there"), WORDED)
def test_words_of_a_signal_lost_and_of_one_forced(title: str, gone: str, there: str) -> None:
    assert (lost(title), forced(title)) == (gone, there)


def test_a_thing_that_is_as_it_should_be_is_not_called_missing() -> None:
    assert denied("raise command") == "not so: raise command"


def test_what_is_as_usual_keeps_the_title() -> None:
    signal = TREES.signals["spoilers/raise-relay-closed"]
    event = TREES.events["spoilers/every-panel-up"]
    assert title_of(signal, True, True) == signal.title
    assert title_of(signal, True, False) == f"{signal.title} when it should not be"
    assert title_of(signal, False, False) == "raise relay not closed"
    assert title_of(event, True, False) == event.title
    assert title_of(event, False, True) == "not all six panels up"


def titles() -> list[str]:
    tables = (TREES.signals, TREES.events, TREES.conditions, TREES.causes)
    return [entry.title for table in tables for entry in table.values()]


@pytest.mark.parametrize("turn", [lost, forced, denied])
def test_no_word_of_the_authors_is_lost_or_moved(turn: object) -> None:
    """Only what counts at the beginning is put in other words."""
    assert callable(turn)
    for title in titles():
        words = title.removeprefix("at least one ").removeprefix("a ").split()
        said = iter(turn(title).split())
        assert all(any(word.strip(",") == one.strip(",") for one in said) for word in words), turn(title)


def test_almost_every_title_of_the_demonstration_library_is_read() -> None:
    """Those that stay whole say more than one thing."""
    whole = {entry.title for entry in TREES.signals.values() if lost(entry.title).startswith("not so")}
    assert whole == {
        "aircraft low or set for landing",
        "landing or rejected take-off recognised",
        "lever armed, height low and thrust idle at the same time",
        "raised panels to be warned of",
    }
