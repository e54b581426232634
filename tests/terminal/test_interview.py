"""The interview keeps every answer before it asks the next; words are kept as typed, and mistakes can be mended."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest

from faultree.journal import book
from faultree.journal.records import Flight, Record
from faultree.journal.store import Store
from faultree.terminal.interview import Interview, Left
from faultree.terminal.lines import Piped
from faultree.terminal.look import Look
from faultree.terminal.pump import Screen
from tests.journal.cases import HOSTILE, opened
from tests.walk.small import DARK, small


@pytest.fixture
def mine(tmp_path: Path) -> Iterator[Store]:
    store = opened(tmp_path / "j.sqlite")
    yield store
    store.close()


def interview(store: Store, *lines: str) -> tuple[Interview, io.StringIO]:
    out = io.StringIO()
    source = io.StringIO("".join(f"{line}\n" for line in lines))
    return Interview(store, small(), Screen(out, Look(plain=True, width=80)), Piped(source, out), "KL"), out


def begun(store: Store, *lines: str) -> tuple[Record, str]:
    """The case that these lines begin, and what was shown."""
    talk, out = interview(store, *lines)
    number = talk.open(Flight())
    assert number is not None
    return book.read(store, number), " ".join(out.getvalue().split())


def test_every_answer_is_kept_before_the_next_question(mine: Store) -> None:
    """The input ends after each answer in turn: the record holds all of them."""
    lines = ("HM-VLA", "HM 412", "2031-05-04", "tax", "stuck", "a bang")
    for count in range(1, len(lines) + 1):
        record, _ = begun(mine, *lines[:count])
        flight = record.head.flight
        held = [flight.aircraft, flight.flight, flight.day, flight.phase]
        wanted = ["HM-VLA", "HM 412", "2031-05-04", "taxi"]
        assert [one for one in held if one] == wanted[:count]
        assert [one.words for one in record.squawks] == list(lines[4:count])


def test_words_are_kept_as_typed(mine: Store) -> None:
    record, _ = begun(mine, "", "", "", "", *HOSTILE)
    assert [one.words for one in record.squawks] == list(HOSTILE)


# --- the flight ----------------------------------------------------------------------------------


def test_a_day_is_asked_until_it_is_one(mine: Store) -> None:
    record, out = begun(mine, "HM-VLA", "", "soon", "2999-01-01", "3/4/2031", "yesterday", "", "x")
    assert record.head.flight.day == "2031-05-03"
    for words in ("'soon' is no day", "2999-01-01 is still to come", "can be read in two ways"):
        assert words in out


def test_a_phase_is_asked_until_it_is_one(mine: Store) -> None:
    record, out = begun(mine, "HM-VLA", "", "", "landign", "t", "land", "x")
    assert record.head.flight.phase == "landing"
    assert "did you mean 'landing'?" in out
    assert "'t' can mean 'taxi' or 'take-off'" in out
    record, _ = begun(mine, "HM-VLA", "", "", "other: at the gate", "x")
    assert record.head.flight.phase == "other: at the gate"


def test_undo_goes_back_to_the_question_before(mine: Store) -> None:
    record, _ = begun(mine, "HM-VLB", "undo", "HM-VLA", "HM 412", "", "undo", "2031-05-04", "taxi", "x")
    assert record.head.flight == Flight("HM-VLA", "HM 412", "2031-05-04", "taxi")
    said = [one.data["aircraft"] for one in record.entries if one.kind == "flight"]
    assert said[0] == "HM-VLA"  # the case was opened with HM-VLB, and the log keeps what was typed after it


def test_what_of_the_flight_is_known_is_not_asked_again(mine: Store) -> None:
    talk, out = interview(mine, "2031-05-04", "", "x")
    talk.case = book.open_case(mine, Flight("HM-VLA", "HM 412"), [], small().digest)
    assert talk.flight(book.read(mine, talk.case).head.flight)
    assert "Aircraft >" not in out.getvalue()
    assert book.read(mine, talk.case).head.flight == Flight("HM-VLA", "HM 412", "2031-05-04")


def test_what_somebody_else_says_of_the_flight_meanwhile_stays(mine: Store) -> None:
    talk, out = interview(mine)
    talk.case = book.open_case(mine, Flight("HM-VLA", "HM 412"), [], small().digest)
    there = talk.case
    left = [Flight("HM-VLB", "HM 412")]

    def act() -> None:
        if left:
            book.describe(mine, there, left.pop(), who="MB")

    talk.lines = Meanwhile(io.StringIO("2031-05-04\n"), out, act)
    talk.flight(Flight("HM-VLA", "HM 412"))
    assert book.read(mine, there).head.flight == Flight("HM-VLB", "HM 412", "2031-05-04")


# --- words that are commands, and others ---------------------------------------------------------


def test_words_for_the_program_are_no_words_of_the_crew(mine: Store) -> None:
    record, out = begun(mine, "help", "", "", "", "", "undo", "edit", "lamp out", "help", "a bnag", "edit", "a bang",
                        "smoke", "undo", "undo it did not help", "")  # fmt: skip
    assert [one.words for one in record.squawks] == ["lamp out", "a bnag", "undo it did not help"]
    assert record.corrected(2) == ("a bang",)
    assert [one.words for one in record.former_squawks] == ["smoke"]
    for words in ("go back to the question before", "There is no squawk yet.", "put the last squawk in other words",
                  "Taken back: “smoke”. It stays in the log."):  # fmt: skip
        assert words in out


@pytest.mark.parametrize("lines", [("quit",), ("", "", "", "", "lamp", "quit")])
def test_quit_leaves_at_every_question(mine: Store, lines: tuple[str, ...]) -> None:
    talk, _ = interview(mine, *lines)
    with pytest.raises(Left):
        talk.open(Flight())
    assert "is kept as it is" in talk.kept if len(lines) > 1 else "no case was begun" in talk.kept


# --- what they mean ------------------------------------------------------------------------------


def matched(store: Store, *lines: str, words: tuple[str, ...] = ("no landing signal",)) -> tuple[Record, str, bool]:
    number = book.open_case(store, Flight(), words, small().digest)
    talk, out = interview(store, *lines)
    talk.case = number
    done = talk.match()
    return book.read(store, number), " ".join(out.getvalue().split()), done


@pytest.mark.parametrize("line", ["1", "dark", DARK, "The signal lamp stays DARK"])
def test_a_meaning_is_chosen_by_number_id_or_title(mine: Store, line: str) -> None:
    record, _, done = matched(mine, line)
    assert done
    assert record.symptoms == (DARK,)


def test_other_words_look_again_and_the_crews_words_stay_in_view(mine: Store) -> None:
    record, out, done = matched(mine, "zebra", "99", "", "reported bad", "1")
    assert done
    for words in ("Nothing fits 'zebra'", "There is no number 99 here", "Type a number, other words to look for"):
        assert words in out
    assert out.count("What does this mean: “no landing signal”") == 3
    assert "Looked for: reported bad" in out
    assert record.symptoms == ("signal/doubly-bad",)


def test_back_shows_the_first_list_again(mine: Store) -> None:
    record, out, _ = matched(mine, "reported bad", "back", "1")
    assert record.symptoms == (DARK,)
    assert "“back”" not in out


def test_the_words_can_be_put_in_others_at_the_question(mine: Store) -> None:
    record, out, _ = matched(mine, "edit", "reported bad", "1")
    assert record.squawks[0].words == "no landing signal"
    assert record.corrected(1) == ("reported bad",)
    assert "What does this mean: “reported bad”" in out
    assert record.symptoms == ("signal/doubly-bad",)


def test_undo_asks_about_the_squawk_before_again(mine: Store) -> None:
    record, out, done = matched(mine, "undo", "0", "undo", "1", "0", words=("no landing signal", "a bang"))
    assert done
    assert "There is no squawk before this one" in out
    assert [one.symptom for one in record.squawks] == [DARK, None]
    assert [one.data["symptom"] for one in record.entries if one.kind == "matched"] == [None, DARK, None]


def test_help_and_quit_at_the_question(mine: Store) -> None:
    with pytest.raises(Left):
        matched(mine, "help", "quit")
    record, out, _ = matched(mine, "?", "1")
    assert "show the first list again" in out
    assert record.corrected(1) == ()


def test_none_of_these_is_kept_and_the_end_of_input_is_no_answer(mine: Store) -> None:
    record, out, done = matched(mine, "0")
    assert done
    assert record.symptoms == ()
    assert "for the tree's author" in out
    record, _, done = matched(mine)
    assert not done
    assert not [one for one in record.entries if one.kind == "matched"]


class Meanwhile(Piped):
    """Lines behind which somebody else writes into the same case."""

    def __init__(self, source: io.StringIO, output: io.StringIO, act: object) -> None:
        super().__init__(source, output)
        self.act = act

    def read(self, ask: str) -> str | None:
        line = super().read(ask)
        self.act()  # type: ignore[operator]  # a callable without arguments
        return line


def test_what_somebody_else_said_meanwhile_stands_and_is_told(mine: Store) -> None:
    number = book.open_case(mine, Flight(), ["no landing signal"], small().digest)
    talk, out = interview(mine, "1")
    assert isinstance(talk.lines, Piped)
    talk.case, source = number, io.StringIO("1\n")
    talk.lines = Meanwhile(source, out, lambda: book.match(mine, number, 1, "signal/button-lamp", who="MB"))
    assert talk.match()
    assert book.read(mine, number).symptoms == ("signal/button-lamp",)
    assert "MB has said meanwhile that it means “the signal stays dark in the dark”" in " ".join(out.getvalue().split())


def test_a_note_of_somebody_else_keeps_no_meaning_out(mine: Store) -> None:
    number = book.open_case(mine, Flight(), ["no landing signal"], small().digest)
    talk, out = interview(mine, "1")
    talk.case = number
    talk.lines = Meanwhile(io.StringIO("1\n"), out, lambda: book.add(mine, number, "note", {"text": "x"}))
    assert talk.match()
    assert book.read(mine, number).symptoms == (DARK,)


# --- ctrl-c --------------------------------------------------------------------------------------


class Pressed:
    """Lines typed by hand; an empty one is Ctrl-C."""

    by_hand = True

    def __init__(self, *lines: str) -> None:
        self.lines = iter(lines)

    def read(self, ask: str) -> str | None:
        del ask
        line = next(self.lines)
        if not line:
            raise KeyboardInterrupt
        return line


def test_ctrl_c_once_says_what_is_kept_and_twice_leaves(mine: Store) -> None:
    talk, out = interview(mine)
    talk.lines = Pressed("HM-VLA", "", "HM 412", "", "")
    with pytest.raises(KeyboardInterrupt):
        talk.open(Flight())
    shown = " ".join(out.getvalue().split())
    assert shown.count("Interrupted. Case 1 is kept as it is; 'faultree debrief continue 1' takes it up.") == 2
    assert "Type quit, or press Ctrl-C again, to leave." in shown
    assert book.read(mine, 1).head.flight.flight == "HM 412"
