"""An exercise at a screen, from the report to the mark, and everything that can happen on the way."""

from __future__ import annotations

import pytest

from faultree.practice import exercise as ex
from faultree.practice.events import Ask, Event, HandOver, Possible
from tests.terminal.drawn import cells
from tests.terminal.practised import exercise, practise


def test_a_run_from_report_to_mark() -> None:
    """The report, a check, its answer, the suspects, the repair, the mark and its picture, in this order."""
    done, text = practise(exercise(), "listen", "replace motor")
    assert (done.ending, done.minutes) == ("restored", 35)
    order = ("Practice: find the hidden fault", "Suspects", "Found: No", "Step by step",
             "The best strategy on this aircraft", "o this run, . the best strategy",
             "The symptom is gone. Mark: 100 of 100", "Hidden", "To work on")  # fmt: skip
    places = [text.index(words) for words in order]
    assert places == sorted(places)
    assert "approved maintenance manual" in text[: text.index("Found: No")]


def test_cautions_come_before_their_step_and_can_be_skipped_at_a_price() -> None:
    done, text = practise(exercise(), "gauge", "back", "gauge", "skip", "listen", "replace motor")
    assert text.index("WARNING The gate moves; keep hands away") < text.index("Found:")
    assert "Left; nothing was done." in text
    assert done.steps[0].skipped == ("g/moving",)
    assert "no mark above 40" in text


def test_a_number_makes_a_step_of_the_list_shown_last() -> None:
    done, text = practise(exercise(), "1", "checks", "1", "parts", "3", "quit")
    assert "Type checks or parts for a list first." in text
    assert [(one.action, one.target) for one in done.steps] == [("check", "g/listen"), ("replace", "g/motor")]


def test_an_answer_can_be_taken_back_but_not_its_minutes() -> None:
    done, text = practise(exercise(), "undo", "listen", "undo", "found", "quit")
    assert "There is no answer to take back yet." in text
    assert "its minutes are spent all the same" in text
    assert (done.minutes, done.case.steps) == (2, ())


def test_hints_go_from_a_kind_of_step_to_its_reason() -> None:
    _, text = practise(exercise(), "hint", "hint", "hint", "quit")
    first, second, third = (text.index(words) for words in ("look among those of", "Best next:", "Best next: Listen"))
    assert first < second <= third
    assert text.count("Best next: Listen to the motor.") == 2


@pytest.mark.parametrize("line", ["undo", "hint", "suspects"])
def test_an_exam_gives_no_help(line: str) -> None:
    done, text = practise(exercise(mode="exam"), "listen", line, "quit")
    assert "Suspects" not in text
    assert f"'{line}' is not possible in the mode exam" in text
    assert len(done.case.steps) == 1


def test_nothing_but_answers_is_shown_before_the_end_of_an_exam() -> None:
    """Neither what is hidden, nor a probability, nor a mark."""
    _, text = practise(exercise(mode="exam"), "listen", "look in", "ok", "found", "quit")
    for words in ("Mark", "%", "Motor dead", "Hidden"):
        assert words not in text


def test_leaving_says_how_far_it_was() -> None:
    for lines in (("listen", "quit"), ("listen", "ctrl-c", "ctrl-c"), ("listen",)):
        done, text = practise(exercise(), *lines)
        assert text.rstrip().endswith("Left after 2 min of work.")
        assert done.ending is None


def test_one_interrupt_loses_nothing_and_two_in_a_row_leave() -> None:
    done, text = practise(exercise(), "listen", "ctrl-c", "replace motor")
    assert done.ending == "restored"
    assert "The exercise stands at 2 min of work; Ctrl-C again leaves it." in text


def test_a_hand_over_asks_who_is_suspected_and_what_is_possible() -> None:
    """In coached mode, where the suspects are shown, only who."""
    events: list[Event] = []

    def keep(event: Event) -> str:
        events.append(event)
        return ""

    lines = ("listen", "hand over", "the motr", "motor", "pump, x", "Pump, motor, valve", "ok")
    done, text = practise(exercise(mode="blind"), *lines, keep=keep)
    assert events == [Ask("g/listen"), Possible("g/pump,g/motor,g/valve"), HandOver("g/motor")]
    assert done.ending == "handed over"
    assert "Nothing fits 'the motr'" in text
    assert "Nothing fits 'x'." in text
    assert "Named 1 of the 1 still possible." in text
    _, text = practise(exercise(), "listen", "hand over", "motor", "ok")
    assert "could it still be" not in text


def test_questions_of_a_hand_over_can_be_left_out_or_broken_off() -> None:
    done, _ = practise(exercise(mode="blind"), "hand over", "", "", "ok")
    assert (done.ending, done.suspect, done.named) == ("handed over", "", ())
    done, text = practise(exercise(mode="blind"), "hand over", "ctrl-c", "quit")
    assert done.ending is None
    assert "Not handed over; the exercise goes on." in text


@pytest.mark.parametrize("line", ["back", "undo", "cancel"])
def test_a_hand_over_can_be_left_at_each_of_its_questions(line: str) -> None:
    """By a word, not only by a key; what was found is shown in between where that is asked for."""
    for before in ((), ("motor",), ("motor", "none")):
        done, text = practise(exercise(mode="blind"), "listen", "hand over", *before, "found", line, "quit")
        assert done.ending is None
        assert "Not handed over; the exercise goes on." in text
        assert "Found so far" in text
    assert practise(exercise(), "hand over", "quit")[0].ending is None


def test_a_hand_over_is_said_again_before_it_ends_the_exercise() -> None:
    done, text = practise(exercise(), "listen", "hand over motor", "", "what", "no", "hand over motor", "ok")
    assert "Hand over, naming Motor? That ends the exercise: ok hands over, back goes on." in " ".join(text.split())
    assert "Type ok or back." in text
    assert (done.ending, done.suspect) == ("handed over", "g/motor")


def test_what_was_named_at_this_step_is_not_asked_again() -> None:
    done, text = practise(exercise(mode="exam"), "possible none", "hand over pump", "ok")
    assert done.ending == "handed over"
    assert "Still possible >" not in text
    assert "Named 0 of the" in text


def test_the_clock_ends_an_exercise() -> None:
    """Before the next line is read, whatever it says; who is suspected is asked then."""
    ticks = iter([9.5, 9.0, 8.9, 4.2, 0.0, 0.0])
    done, text = practise(exercise(), "listen", "pump", clock=lambda: next(ticks, 0.0))
    assert (done.ending, len(done.steps), done.suspect) == ("out of time", 1, "g/pump")
    assert "9 min left; it runs on" in text
    assert "on the clock 4 min left" in text
    assert "The time is up. Which part do you suspect most? It does not enter the mark." in " ".join(text.split())
    assert "The time is up. Mark:" in text
    assert "it was not at fault" in " ".join(text.split())


def test_work_that_takes_longer_than_allowed_ends_an_exercise() -> None:
    done, _ = practise(exercise(limit=20.0), "gauge", "ok", "look in", "ok")
    assert (done.ending, done.minutes) == (None, 20)
    done, text = practise(exercise(limit=19.0), "gauge", "ok", "look in", "ok", "replace motor")
    assert (done.ending, len(done.steps)) == ("out of time", 2)
    assert "the work may take 19 min" in text


def test_a_report_that_is_wrong_is_found_by_looking() -> None:
    """Level 4 from end to end: told at the start, looked at, handed over, full mark."""
    begun = exercise("g/mat-torn", mode="exam", level=4, there=False, doubt=0.3)
    done, text = practise(begun, "look", "hand over", "ok")
    assert "3 of 10 reports are wrong" in text
    assert "What was reported is not there now" in text
    assert "That clears nothing: the report stands" in " ".join(text.split())
    assert (done.ending, done.looked) == ("handed over", False)
    assert "Which part" not in text
    assert "Mark: 100 of 100" in text
    assert "the report was wrong; Door mat torn, which does not show it" in " ".join(text.split())


def test_a_doubtful_report_that_is_true_goes_on_after_the_look() -> None:
    done, text = practise(exercise(level=4, doubt=0.3), "look", "listen", "replace motor")
    assert done.ending == "restored"
    assert "Mark: 100 of 100" in text


@pytest.mark.parametrize("mode", ["coached", "blind", "exam"])
def test_the_system_and_its_parts_can_be_looked_up_in_every_mode(mode: ex.Mode) -> None:
    """As in a manual: where a part is and what hangs on it, and nothing of how likely anything is."""
    _, text = practise(exercise(mode=mode), "about g", "about pump", "about wombat", "quit")
    said = " ".join(text[text.index("about g") if "about g" in text else 0 :].split())
    assert "The gate moves: Pressure" in said
    assert "Acts on: Pressure" in said
    assert "No system and no part fits 'wombat'." in said


def test_a_step_that_could_not_be_kept_is_told_and_made_all_the_same() -> None:
    done, text = practise(exercise(), "listen", "quit", keep=lambda event: "The disk is full.")
    assert "The disk is full." in text
    assert len(done.steps) == 1


def test_an_exercise_that_is_taken_up_shows_what_was_found_and_what_waits() -> None:
    left, _ = practise(exercise(), "gauge")
    _, text = practise(left, "quit")
    assert text.index("Suspects") < text.index("WARNING The gate moves")
    left, _ = practise(exercise(), "listen", "gauge")
    _, text = practise(left, "quit")
    assert "Found so far" in text
    assert "Listen to the motor: No" in text
    assert "WARNING The gate moves" in text


def test_what_is_closed_today_is_neither_listed_nor_made() -> None:
    done, text = practise(exercise(closed=frozenset({"g/mat"})), "checks all", "g/mat", "quit")
    assert "door mat" not in text
    assert "This check cannot be made today." in text
    assert not done.steps


@pytest.mark.parametrize("width", [40, 80, 120])
def test_no_line_is_wider_than_the_screen(width: int) -> None:
    lines = ("checks", "parts", "help", "report", "gauge", "ok", "hint", "replace pump", "listen", "replace motor")
    _, text = practise(exercise(), *lines, width=width)
    assert max(map(cells, text.splitlines())) <= width


def test_without_colour_no_control_signs_are_written() -> None:
    _, text = practise(exercise(), "listen", "replace motor")
    assert "\x1b" not in text
    assert text.isascii() or all(sign in "“”≥" for sign in text if not sign.isascii())
