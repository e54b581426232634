"""What typed lines mean: short forms where they are clear, and a question back where they are not."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultree.terminal.meant import Help, Meant, ShowAgain, ShowSuspects, Unclear, Write
from faultree.terminal.typed import COMMANDS, possible, understand
from faultree.walk import events as ev
from faultree.walk.machine import start, step
from faultree.walk.state import Walk
from faultree.walk.table import TRANSITIONS, Phase
from faultree.walk.view import prompt
from tests.trees.demonstration import library
from tests.walk.small import asked, small, walked

VOLTAGE = walked(ev.TakeUp("voltage"), ev.Acknowledge())
CLICK = walked(ev.TakeUp("click"))
READING = walked(ev.TakeUp("voltage"))
REPAIR = walked(ev.Replace("fuse"), ev.Acknowledge())
CLASH = walked(*asked("voltage", "yes"), *asked("bench", "yes"))
OVER = walked(ev.Finish())
LIST = walked(ev.ShowAll())


def _meant(line: str, walk: Walk) -> Meant:
    return understand(line, prompt(walk), walk)


@pytest.mark.parametrize(
    ("line", "walk", "meant"),
    [
        ("yes", VOLTAGE, ev.AnswerCheck("yes")),
        ("Y", VOLTAGE, ev.AnswerCheck("yes")),
        ("n", VOLTAGE, ev.AnswerCheck("no")),
        (" NO ", VOLTAGE, ev.AnswerCheck("no")),
        ("1", VOLTAGE, ev.AnswerCheck("yes")),
        ("2", VOLTAGE, ev.AnswerCheck("no")),
        ("3", VOLTAGE, ev.CannotTell()),
        ("can't tell", VOLTAGE, ev.CannotTell()),
        ("can’t tell", VOLTAGE, ev.CannotTell()),
        ("cant tell", VOLTAGE, ev.CannotTell()),
        ("cannot", VOLTAGE, ev.CannotTell()),
        ("don't know", VOLTAGE, ev.CannotTell()),
        ("no idea", VOLTAGE, ev.CannotTell()),
        ("nothing", CLICK, ev.AnswerCheck("silence")),
        ("silence", CLICK, ev.AnswerCheck("silence")),
        ("one clear", CLICK, ev.AnswerCheck("click")),
        ("clear", CLICK, ev.AnswerCheck("click")),
        ("ok", READING, ev.Acknowledge()),
        ("1", READING, ev.Acknowledge()),
        ("gone", REPAIR, ev.Retest(gone=True)),
        ("still", REPAIR, ev.Retest(gone=False)),
        ("y", REPAIR, ev.Retest(gone=True)),
        ("no", REPAIR, ev.Retest(gone=False)),
        ("undo", VOLTAGE, ev.Undo()),
        ("un", VOLTAGE, ev.Undo()),
        ("take back", VOLTAGE, ev.Undo()),
        ("all", VOLTAGE, ev.ShowAll()),
        ("also in the dark", VOLTAGE, ev.Also(("signal/button-lamp",))),
        ("also button-lamp", OVER, ev.Also(("signal/button-lamp",))),
        ("also lamp out", VOLTAGE, ev.Also(("signal/dark",))),
        ("by line", VOLTAGE, ev.By(("line",))),
        ("by the crew and line", LIST, ev.By(("crew", "line"))),
        ("by c, s", VOLTAGE, ev.By(("crew", "shop"))),
        ("by anyone", OVER, ev.By()),
        ("back", LIST, ev.Back()),
        ("1", LIST, ev.Back()),
        ("finish", VOLTAGE, ev.Finish()),
        ("fin", VOLTAGE, ev.Finish()),
        *(
            (words, VOLTAGE, ev.CannotTell())
            for words in (
                "don't remember",
                "dont remember",
                "I don't remember",
                "I do not remember",
                "i can't recall",
                "dunno",
                "I don’t know",
                "did not look",
            )
        ),
        ("carry on", OVER, ev.CarryOn()),
        ("go on", OVER, ev.CarryOn()),
        ("car", OVER, ev.CarryOn()),
        ("quit", VOLTAGE, ev.Quit()),
        ("q", VOLTAGE, ev.Quit()),
        ("exit", VOLTAGE, ev.Quit()),
        ("why", VOLTAGE, ev.AskWhy("")),
        ("why a", VOLTAGE, ev.AskWhy("signal/lamp-broken")),
        ("why wire", VOLTAGE, ev.AskWhy("signal/wire-broken")),
        ("why 5", VOLTAGE, ev.AskWhy("signal/supply-seen")),
        ("note the plug's loose", VOLTAGE, ev.Note("the plug's loose")),
        ("save my case.yaml", VOLTAGE, Write("my case.yaml")),
        ("save", VOLTAGE, Write("")),
        ("overwrite a.yaml", VOLTAGE, Write("a.yaml", over=True)),
        ("replace", VOLTAGE, ev.Replace("signal/lamp")),
        ("replace b", VOLTAGE, ev.Replace("signal/relay")),
        ("replace fuse", VOLTAGE, ev.Replace("signal/fuse")),
        ("repair wire", VOLTAGE, ev.Replace("signal/wire-broken")),
        ("check weather", VOLTAGE, ev.TakeUp("signal/weather")),
        ("check 5", VOLTAGE, ev.TakeUp("signal/supply-seen")),
        ("1", CLASH, ev.LookAgain("signal/voltage")),
        ("weath", VOLTAGE, Unclear("'weath' is not understood here. Where nobody can say, type can't tell.")),
        ("supply light", VOLTAGE, ev.TakeUp("signal/supply-seen")),
        ("help", VOLTAGE, Help()),
        ("?", VOLTAGE, Help()),
        ("show", VOLTAGE, ShowAgain()),
        ("suspects", VOLTAGE, ShowSuspects()),
    ],
)
def test_what_a_line_means(line: str, walk: Walk, meant: Meant) -> None:
    """Numbers, answers by id, wording or beginning, and commands in full or in short."""
    assert _meant(line, walk) == meant


@pytest.mark.parametrize(
    ("line", "walk", "words"),
    [
        ("", VOLTAGE, "Nothing was typed"),
        ("9", VOLTAGE, "numbers go from 1 to"),
        ("0", VOLTAGE, "There is no number 0"),
        ("99999999999999999999", VOLTAGE, "There is no number 999999999999 here"),
        ("s", VOLTAGE, "'suspects', 'save' or 'show'"),
        ("undoo", VOLTAGE, "did you mean 'undo'?"),
        ("why signal", VOLTAGE, "fits more than one: signal lamp broken (signal/lamp-broken)"),
        ("why zebra", VOLTAGE, "Nothing here is called 'zebra'"),
        ("why z", VOLTAGE, "No suspect has the letter Z here; type some words of it behind why."),
        ("replace engine", VOLTAGE, "Nothing here is called 'engine'"),
        ("check", VOLTAGE, "Which check?"),
        ("check the", VOLTAGE, "fits more than one"),
        ("note", VOLTAGE, "behind the word"),
        ("ok", VOLTAGE, "'ok' has nothing to do here"),
        ("can't tell", READING, "The check has not been made yet: type ok first"),
        ("can", READING, "'can' can mean 'can't tell' or 'can't duplicate'; type it in full"),
        ("back", VOLTAGE, "'back' has nothing to do here"),
        ("yes", OVER, "not understood here"),
        ("undo twice", VOLTAGE, "not understood here"),
        ("yes", READING, "not understood here"),
        ("no", READING, "not understood here"),
        ("n", OVER, "not understood here"),
    ],
)
def test_what_is_asked_back(line: str, walk: Walk, words: str) -> None:
    """A line that could mean several things, or none, is answered with what it could have been."""
    meant = _meant(line, walk)
    assert isinstance(meant, Unclear)
    assert words in " ".join((meant.text, *meant.options))


@pytest.mark.parametrize(
    ("line", "check"),
    [
        ("check row A", "electrical/breaker-row-a"),
        ("check look at row B", "electrical/breaker-row-b"),
        ("check breaker row B", "electrical/breaker-row-b"),
        ("check strut interlock cable by hand", "spoilers/interlock-cable-look"),
        ("check lamp test", "spoilers/lamp-test"),
        ("check leading-edge lamps", "leading-edge/device-lamp-test"),
    ],
)
def test_the_very_words_go_before_words_that_begin_so(line: str, check: str) -> None:
    """Exact words in a row mean what holds them, although other titles have words that begin so."""
    walk = step(step(start(library()), ev.Begin(("stay-down",))).walk, ev.Acknowledge()).walk
    assert _meant(line, walk) == ev.TakeUp(check)


@pytest.mark.parametrize(
    ("line", "event"),
    [
        ("why signal", ev.AskWhy("signal/lamp-broken")),
        ("check the", ev.TakeUp("signal/voltage")),
        ("not today", ev.NotToday("tool", "multimeter")),
        ("also lamp", ev.Also(("signal/button-lamp",))),
    ],
)
def test_what_fits_several_things_can_be_chosen_from(line: str, event: ev.Event) -> None:
    """Each of the possible meanings comes with what it would do."""
    meant = _meant(line, VOLTAGE)
    if isinstance(meant, Unclear):
        assert len(meant.events) == len(meant.options)
        assert event in meant.events
    else:
        assert meant == event


@pytest.mark.parametrize("phase", list(Phase))
def test_a_command_is_offered_only_where_it_can_be_done(phase: Phase) -> None:
    """The words below a screen and in its help are those that the table allows."""
    for command in possible(phase):
        assert command.event is None or command.event in TRANSITIONS[phase]


def test_no_word_stands_for_two_commands() -> None:
    """Every spelling is clear."""
    spelled = [word for command in COMMANDS for word in (command.word, *command.others)]
    assert len(spelled) == len(set(spelled))


@given(st.text(max_size=30), st.sampled_from([VOLTAGE, CLICK, READING, REPAIR, CLASH, OVER, LIST, start(small())]))
def test_no_line_raises(line: str, walk: Walk) -> None:
    """Whatever is typed has a meaning or is asked back in words."""
    meant = _meant(line, walk)
    assert not isinstance(meant, Unclear) or meant.text


@pytest.mark.parametrize("walk", [start(small()), VOLTAGE, OVER])
@pytest.mark.parametrize("number", ["000001999", "000001" + "0" * 5000, "9" * 5000])
def test_a_number_of_any_length_is_one_that_no_list_has(number: str, walk: Walk) -> None:
    """Alone, in a list of reports, and behind a word."""
    for line in (number, f"{number}, {number}", f"{number}, dark", f"not today {number}", f"why {number}"):
        assert isinstance(_meant(line, walk), Unclear | ev.AskWhy)
