"""A walk at a screen, from its first line to its end."""

from __future__ import annotations

from pathlib import Path

import pytest
from rich.console import RenderableType

from faultree.base.errors import CaseError
from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.terminal import files
from faultree.terminal.pump import screen_for
from faultree.walk import events as ev
from faultree.walk import saved
from faultree.walk.machine import start
from faultree.walk.state import Reason
from faultree.walk.table import Phase
from tests.terminal.drawn import files_in, session, shown
from tests.terminal.test_look import Stream
from tests.walk.small import DARK, LOCKED, asked, small, walked


def _locked() -> Library:
    return load_texts({"signal.yaml": LOCKED})


def test_a_walk_from_report_to_hand_over() -> None:
    """Choose a report, read, answer, and be told what is likely."""
    made, record = session("1", "ok", "check voltage", "ok", "yes", "quit")
    walk = made.run()
    text = record.getvalue()
    assert walk.phase is Phase.CLOSED
    for words in ("What was reported?", "Before you begin", "Step 1", "The end: One item stands out", "Goodbye."):
        assert words in text
    assert "Likely at fault: signal lamp (" in text


def test_below_the_cautions_of_a_step_only_its_question_is_added() -> None:
    """What stands right above is not shown a second time."""
    text = shown("ok", "check voltage", "ok")
    assert text.count("Next check: measure the voltage at the lamp") == 1
    assert text.count("Is there voltage at the lamp?") == 1


def test_a_line_that_is_not_understood_says_what_is_possible_and_asks_again() -> None:
    """And the next line is read as if nothing had happened."""
    made, record = session("ok", "gibberish", "99", "", "silence")
    made.begin([DARK])
    walk = made.run()
    text = record.getvalue()
    assert "'gibberish' is not understood here." in text
    assert "There is no number 99 here" in text
    assert text.count("Type a number, or: undo, why") >= 4
    assert [one[:2] for one in walk.open_case.steps] == [("signal/click", "silence")]


def test_what_fits_several_things_is_chosen_by_its_number() -> None:
    """The numbers belong to the list just shown, not to the choices of the screen."""
    made, record = session("ok", "check the", "2", "quit")
    made.begin([DARK])
    made.run()
    text = record.getvalue()
    options = text.partition("'the' fits more than one:")[2].splitlines()[1:3]
    assert [one.split()[0] for one in options] == ["1", "2"]
    assert f"Next check: {' '.join(options[1].split()[1:4])}" in text


@pytest.mark.parametrize("line", ["", "voltage please", "9", "note it"])
def test_another_line_than_a_number_is_read_as_if_nothing_had_been_asked(line: str) -> None:
    made, record = session("ok", "check the", line, "silence", "quit")
    made.begin([DARK])
    walk = made.run()
    assert [one[:2] for one in walk.open_case.steps] == [("signal/click", "silence")]
    assert ("Noted: it" in record.getvalue()) == (line == "note it")


def test_what_was_closed_is_recorded_without_the_whole_end_again() -> None:
    made, record = session("ok", "check voltage", "ok", "no", "finish", "closed all", walk=start(_locked()))
    made.begin([DARK])
    made.run()
    assert record.getvalue().count("To hand over") == 1
    assert "Recorded as done: " in record.getvalue()


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ((), "The input has ended; no check has been made yet."),
        (("ok",), "The end: You ended it here"),
        (("ok", "silence"), "Step 1: listen to the relay: What do you hear? Nothing"),
        (
            ("ok", "check voltage", "ok", "yes", "check bench", "ok", "1"),
            "cannot all be true, and that is not settled:",
        ),
        (("ok", "finish"), "The input has ended"),
    ],
)
def test_the_end_of_input_says_where_the_case_stands(lines: tuple[str, ...], words: str) -> None:
    """Politely, and without asking anything more."""
    text = shown(*lines)
    assert "The input has ended" in text
    assert words in text
    assert "What next?" not in text.partition("The input has ended")[2]


def test_the_end_of_input_before_a_report() -> None:
    """An empty pipe shows what can be chosen, and that nothing was."""
    assert "The input has ended; no check has been made yet." in shown(symptom=None)


def test_the_end_of_the_input_repeats_nothing_and_says_nothing_untrue() -> None:
    """Behind an end that is on view it only points there; a case that was taken up has its checks already."""
    text = shown("ok", "finish")
    assert text.count("To hand over") == 1
    assert text.endswith("The input has ended; where the case stands is shown above.\n")
    made, record = session()
    made.take_up(saved.pack(walked(*asked("voltage", "no"))), Path("mine.yaml"))
    made.run()
    assert "no check has been made" not in record.getvalue()
    assert record.getvalue().endswith("before the case was gone on with; it is as it was.\n")


# --- saving ------------------------------------------------------------------------------------


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to save in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_saving_writes_the_case_and_says_where(folder: Path) -> None:
    """A second save without a name goes to the same file."""
    text = shown("ok", "silence", "save mine", "note later", "save")
    assert text.count("Saved in mine.yaml.") == 2
    assert "later" in files_in(folder)["mine.yaml"]


def test_saving_never_writes_over_another_file_unasked(folder: Path) -> None:
    """Only the word overwrite does."""
    (folder / "other.yaml").write_text("precious", encoding="utf-8")
    text = shown("ok", "silence", "save other")
    assert "other.yaml exists already" in text
    assert files_in(folder)["other.yaml"] == "precious"
    shown("ok", "silence", "overwrite other")
    assert files_in(folder)["other.yaml"] != "precious"


def test_saving_without_a_name_asks_for_one(folder: Path) -> None:
    """With an example."""
    assert "save my-case.yaml" in shown("ok", "save")
    assert files_in(folder) == {}


def test_a_file_that_cannot_be_written_is_said_and_nothing_is_lost(folder: Path) -> None:
    """The walk goes on."""
    text = shown("ok", "silence", f"save {folder / 'none' / 'a.yaml'}", "note x")
    assert "cannot be written" in " ".join(text.split())
    assert "Noted: x" in text


@pytest.mark.parametrize("name", ["/", "~nobody-of-this-name", "x" * 3000])
def test_a_name_that_no_file_can_have_loses_nothing(folder: Path, name: str) -> None:
    """It is said, and the walk goes on."""
    del folder
    text = shown("ok", "silence", f"save {name}", "note x")
    assert "othing was saved" in text
    assert "Noted: x" in text


def test_a_saved_case_is_taken_up_again(folder: Path) -> None:
    """What was found before is shown at the notice, and saving goes to the same file."""
    shown("ok", "silence", "note loose", "save mine.yaml")
    made, record = session("ok", "undo", "save")
    made.take_up(files.load(folder / "mine.yaml"), Path("mine.yaml"))
    walk = made.run()
    assert "Listen to the relay: What do you hear? Nothing" in record.getvalue()
    assert "Loose" in record.getvalue()
    assert "Taken back: listen to the relay: What do you hear? Nothing." in record.getvalue()
    assert "Saved in mine.yaml." in record.getvalue()
    assert walk.open_case.steps == ()


def test_a_case_that_does_not_fit_is_an_error_before_the_walk() -> None:
    """The command line turns it into words and an exit code."""
    made, _ = session()
    with pytest.raises(CaseError):
        made.take_up({"case": 1, "symptoms": ["none"], "steps": []}, Path("a.yaml"))
    with pytest.raises(CaseError):
        made.begin(["none"])


# --- leaving -----------------------------------------------------------------------------------


def test_leaving_with_unsaved_work_offers_saving_the_next_time_and_asks_nothing() -> None:
    """Quit quits."""
    made, record = session("ok", "silence", "quit", by_hand=True)
    made.begin([DARK])
    assert made.run().phase is Phase.CLOSED
    assert "was not saved" in record.getvalue()
    assert "save FILE" in record.getvalue()


def test_leaving_without_work_says_only_goodbye() -> None:
    """There is nothing to lose."""
    assert "not saved" not in shown("ok", "quit")


def test_an_interruption_says_how_to_save_and_the_walk_goes_on() -> None:
    """Ctrl-C loses nothing; the second in a row leaves."""
    made, record = session("ok", "silence", "ctrl-c", "note still here", "ctrl-c", "ctrl-c", "note never read")
    made.begin([DARK])
    walk = made.run()
    text = record.getvalue()
    assert "Interrupted. The case is not saved yet: save FILE keeps it." in text
    assert "Noted: still here" in text
    assert "Left. The case is not saved yet" in text
    assert "never read" not in text
    assert walk.unsaved


def test_a_second_interruption_that_comes_while_the_first_is_answered_leaves_too(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A key that bounces, or an impatient person: it ends as if the two had come one by one."""
    made, record = session("ok", "silence", "ctrl-c", "note never read")
    made.begin([DARK])
    shown_so_far, presses = made.screen.show, iter([True])

    def show(*parts: RenderableType) -> None:
        shown_so_far(*parts)
        if "Interrupted." in record.getvalue() and next(presses, False):
            raise KeyboardInterrupt

    monkeypatch.setattr(made.screen, "show", show)
    assert made.run().unsaved
    assert record.getvalue().count("Left. The case is not saved yet") == 1
    assert "never read" not in record.getvalue()


def test_an_interruption_at_every_kind_of_prompt_changes_nothing() -> None:
    """The same lines with Ctrl-C before each of them lead to the same walk; it is asked again each time."""
    lines = ("ok", "silence", "check voltage", "ok", "why A", "replace lamp", "ok", "all", "finish")
    plain, _ = session(*lines)
    broken, record = session(*(one for line in lines for one in ("ctrl-c", line)))
    plain.begin([DARK])
    broken.begin([DARK])
    assert plain.run() == broken.run()
    assert record.getvalue().count("Interrupted.") == len(lines)


def test_an_interruption_after_saving_says_where_the_case_is(folder: Path) -> None:
    """And before any work, that there is nothing to save."""
    assert folder.is_dir()
    assert "The case is saved in a.yaml." in shown("ok", "silence", "save a", "ctrl-c", "quit")
    assert "There is nothing to save." in shown("ctrl-c", "quit")


def test_a_pipe_is_left_at_the_first_interruption() -> None:
    """Nobody is there to type on."""
    made, record = session("ok", "ctrl-c", "ok", by_hand=False)
    made.begin([DARK])
    made.run()
    assert record.getvalue().count("Left. There is nothing to save.") == 1


# --- the screen --------------------------------------------------------------------------------


@pytest.mark.parametrize("word", ["help", "show", "suspects", "why", "all", "note x"])
def test_every_word_shows_something_and_keeps_the_question(word: str) -> None:
    """After any of them the walk can go on."""
    made, record = session("ok", word, "back" if word == "all" else "show")
    made.begin([DARK])
    walk = made.run()
    assert walk.reason is Reason.WISHED  # the end of input summed the case up
    assert record.getvalue().count("What do you hear?") >= 2


def test_lines_carry_no_spaces_at_their_ends() -> None:
    """A screen reader and a diff can do without them."""
    text = shown("ok", "all", "back", "silence", "finish")
    assert all(line == line.rstrip() for line in text.splitlines())


def test_a_screen_follows_its_stream() -> None:
    """Piped output is plain; a terminal that can show the signs is not."""
    assert screen_for(Stream(False), {}).look.plain
    assert not screen_for(Stream(True), {}).look.plain
    assert screen_for(Stream(False), {"COLUMNS": "100"}).page.width == 100


def test_the_walk_can_be_taken_up_in_any_state() -> None:
    """A session only pumps: whatever state it is given, it goes on from there."""
    made, record = session("1", walk=walked(ev.Replace("fuse"), ev.Acknowledge()))
    assert made.run().reason is Reason.RESTORED
    assert "The end: The symptom is gone" in record.getvalue()
    again = saved.pack(walked(*asked("voltage", "no")))
    assert again["symptoms"] == [DARK]


def test_a_further_report_and_who_is_there_are_said_on_the_screen() -> None:
    """What the report changed stands where an answer would; what is limited says how it is lifted."""
    text = " ".join(shown("ok", "silence", "also in the dark", "by line", "undo", "finish").split())
    assert "Added: the signal stays dark in the dark. All answers are kept." in text
    assert "Also reported: the signal stays dark in the dark" in text
    assert "Step 2: the signal lamp stays dark and the signal stays dark in the dark" in text
    assert "Only checks by the line are proposed, until you type by anyone." in text
    assert "Taken back: the report “the signal stays dark in the dark”." in text


def test_the_help_offers_both_words() -> None:
    text = " ".join(shown("ok", "help").split())
    assert "also SYMPTOM something else was reported as well" in text
    assert "by WHO propose only checks by WHO" in text


def test_a_crew_at_its_end_is_told_that_others_could_tell_more() -> None:
    made, record = session("ok", "can't tell", walk=start(small(), ("crew",)))
    made.begin([DARK])
    made.run()
    text = " ".join(record.getvalue().split())
    assert "The end: No check by the crew tells more apart" in text
    assert "Checks by others would tell more: type by anyone to have them proposed." in text
