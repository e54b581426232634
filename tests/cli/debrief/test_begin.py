"""A debrief from a pipe: the flight, the words, their meaning, the crew's answers; broken off, it goes on."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.journal import book
from faultree.journal.stage import stage_of, walked
from tests.cli.desks import other_tree, run, said
from tests.journal.cases import opened

FLIGHT = "HM-VLA\nHM 412\n2025-05-04\nland\n"
WORDS = "no landing signal\n\n"


def test_a_debrief_from_the_first_word_to_the_state_of_the_case(journal: Path) -> None:
    out = said("debrief", lines=f"{FLIGHT}{WORDS}1\nok\nsilence\n")
    for words in (
        "everything is kept as you type it", "The signal lamp stays dark", "0 none of these", "Step 1",
        "The state of case 1", "Likeliest", "Excluded, and why", "First for the line", "Not known",
        "approved maintenance manual", "faultree debrief sheet 1 -o case-1.html",
    ):  # fmt: skip
        assert words in out
    record = book.read(opened(journal), 1)
    flight = record.head.flight
    assert (flight.aircraft, flight.flight, flight.day, flight.phase) == ("HM-VLA", "HM 412", "2025-05-04", "landing")
    assert [one.data["check"] for one in record.entries if "check" in one.data] == ["signal/click"]


def test_the_crew_is_asked_only_what_a_crew_can_answer() -> None:
    """Checks of the line and repairs are for the line: they are in the state of the case, not among the questions."""
    out = run("debrief", lines=f"{FLIGHT}{WORDS}1\nok\n").output
    questions, _, state = out.partition("The state of case 1")
    assert "Listen to the relay" in questions or "listen to the relay" in questions
    for words in ("Put right:", "measure the voltage", "test the relay on the bench"):
        assert words not in questions
    assert "(line, " in state


def test_what_is_given_as_an_option_is_not_asked(journal: Path) -> None:
    given = ("--aircraft", "HM-VLB", "--flight", "HM 1", "--day", "2025-05-04", "--phase", "taxi", "--who", "KL")
    out = run("debrief", *given, lines=f"{WORDS}0\n").output
    for words in ("Aircraft >", "Flight number >", "Day (", "Phase >"):
        assert words not in out
    record = book.read(opened(journal), 1)
    assert record.head.flight.aircraft == "HM-VLB"
    assert {one.who for one in record.entries} == {"KL"}


def test_none_of_these_is_an_answer(journal: Path) -> None:
    out = said("debrief", lines=f"{FLIGHT}the coffee is cold\n\n0\n")
    assert "Kept as a report that no symptom of the tree fits, for the tree's author" in out
    assert "no symptom of the tree fits, so there is nothing to walk" in out
    record = book.read(opened(journal), 1)
    assert (record.squawks[0].words, record.squawks[0].symptom) == ("the coffee is cold", None)


def test_nothing_said_begins_no_case(journal: Path) -> None:
    assert "no case was begun" in run("debrief", lines="").output
    assert "no case was begun" in run("debrief", lines="\n\n\n\n\n").output
    assert book.heads(opened(journal)) == ()


LINES = f"{FLIGHT}{WORDS}1\nok\nsilence\n".splitlines(keepends=True)


@pytest.mark.parametrize("count", range(1, len(LINES)))
def test_the_input_may_end_at_every_question(journal: Path, count: int) -> None:
    """What was answered is kept, and `continue` asks what comes next until all is as if nothing had happened."""
    out = run("debrief", lines="".join(LINES[:count])).output
    assert "debrief continue 1" in out or "The state of case 1" in out
    record = book.read(opened(journal), 1)
    stage = stage_of(record)
    assert stage == ("words" if count <= 4 else "match" if count <= 6 else "walk")
    # what was answered is not asked again; what was not is, the flight too where the words were still to come
    rest = {"words": LINES[count:], "match": LINES[6:], "walk": LINES[7:]}[stage]
    run("debrief", "continue", "1", "--by", "crew", lines="".join(rest))
    record = book.read(opened(journal), 1)
    assert record.symptoms == ("signal/dark",)
    kept = walked(record)
    assert kept is not None
    assert [(one["check"], one["answer"]) for one in kept["steps"]] == [("signal/click", "silence")]


@pytest.mark.parametrize("count", range(len(LINES)))
def test_ctrl_c_at_every_question_says_what_is_kept(journal: Path, monkeypatch: pytest.MonkeyPatch, count: int) -> None:
    """After so many answers the next question is interrupted; all of them are in the record."""
    from faultree.terminal.lines import Piped

    real, asked = Piped.read, iter(range(len(LINES) + 1))

    def read(self: Piped, ask: str) -> str | None:
        if next(asked) == count:
            raise KeyboardInterrupt
        return real(self, ask)

    monkeypatch.setattr(Piped, "read", read)
    walking = count >= 7  # from the notice on
    done = run("debrief", lines="".join(LINES), code=0 if walking else 1)
    if count == 0:
        assert "Stopped. Nothing was said, so no case was begun." in done.output
        return
    kept = "Case 1 is kept in the journal" if walking else "Stopped. Case 1 is kept as it is"
    assert f"{kept}; 'faultree debrief continue 1' takes it up." in done.output
    record = book.read(opened(journal), 1)
    flight = record.head.flight
    given = [flight.aircraft, flight.flight, flight.day, flight.phase, *(one.words for one in record.squawks)]
    wanted = ["HM-VLA", "HM 412", "2025-05-04", "landing", "no landing signal"]
    assert [one for one in given if one] == wanted[:count]
    assert stage_of(record) == ("words" if count <= 4 else "match" if count <= 6 else "walk")


@pytest.mark.parametrize(("day", "words"), [("soon", "is no day"), ("2999-01-01", "is still to come")])
def test_a_day_that_cannot_be_is_refused(day: str, words: str) -> None:
    assert words in run("debrief", "--day", day, code=2).output
    assert words in run("debrief", lines=f"HM-VLA\n\n{day}\n").output


def test_on_the_line_the_case_goes_on_with_every_check(journal: Path) -> None:
    run("debrief", lines=f"{FLIGHT}{WORDS}1\nok\nclick\n")
    out = run("debrief", "continue", "1", "--who", "MB", lines="no\nok\n").output
    assert "Done so far" in out
    assert "Step 2" in out
    assert "test the relay on the bench" in out
    out = run("debrief", "continue", "1", "--who", "MB", lines="ok\ncheck supply-seen\nok\nyes\n").output
    newest = book.read(opened(journal), 1).entries[-1]
    assert (newest.data["check"], newest.data["answer"], newest.who) == ("signal/supply-seen", "yes", "MB")


def test_a_case_that_has_ended_is_opened_again_only_on_purpose() -> None:
    run("debrief", lines=f"{FLIGHT}{WORDS}1\n")
    run("debrief", "end", "1", "--state", "handed over")
    done = run("debrief", "continue", "1", code=1)
    assert "has ended (handed over)" in done.output


def test_squawks_that_contradict_each_other_are_told_and_kept(journal: Path) -> None:
    """Two reports that no fault explains together: the walk takes the first, the record keeps both."""
    path = Path("trees/signal.yaml")
    text = path.read_text(encoding="utf-8").replace(
        "  button-lamp:",
        "  bright: {title: the landing lamp shines brightly, situation: testing, sees: {lit: yes}}\n  button-lamp:",
    )
    path.write_text(text, encoding="utf-8")
    out = said("debrief", lines=f"{FLIGHT}no landing signal\nlanding lamp shines brightly\n\n1\n1\nok\n")
    assert "“the landing lamp shines brightly” cannot be true together with the rest" in out
    assert "Left out, as it cannot be true together with the rest: the landing lamp shines brightly." in out
    assert book.read(opened(journal), 1).symptoms == ("signal/dark", "signal/bright")


def test_an_unknown_case_is_refused(journal: Path) -> None:
    opened(journal).close()
    done = run("debrief", "continue", "7", code=1)
    assert "no case 7" in done.output


def test_a_case_whose_report_is_gone_says_what_can_be_done_with_it(journal: Path, tmp_path: Path) -> None:
    """The tree was edited: nothing of the walk fits, and nothing of the record is lost."""
    run("debrief", lines=f"{FLIGHT}{WORDS}1\nok\nsilence\n")
    other_tree(tmp_path)
    out = " ".join(run("debrief", "continue", "1", code=1).output.split())
    for words in (
        "The report “the signal lamp stays dark” is no longer in the tree files.",
        "'faultree debrief sheet 1' writes all of it out", "faultree debrief correct 1 SQUAWK --means SYMPTOM",
    ):  # fmt: skip
        assert words in out
    run("debrief", "correct", "1", "1", "--means", "lamp/dark")
    shown = said("debrief", "continue", "1", "--by", "line", lines="ok\n")
    assert "Kept, but it counts for nothing: the signal lamp stays dark" in shown
    assert walked(book.read(opened(journal), 1)) is not None


def test_a_report_with_a_new_id_goes_on_by_its_title(journal: Path, tmp_path: Path) -> None:
    run("debrief", lines=f"{FLIGHT}{WORDS}1\nok\nsilence\n")
    tree = tmp_path / "trees" / "signal.yaml"
    text = tree.read_text(encoding="utf-8")
    tree.write_text(
        text.replace("  dark:\n", "  unlit:\n").replace("symptom: dark", "symptom: unlit"), encoding="utf-8"
    )
    out = said("debrief", "continue", "1", lines="ok\n")
    assert "Every step of the case still fits." in out
    kept = walked(book.read(opened(journal), 1))
    assert kept is not None
    assert (kept["symptoms"], len(kept["steps"])) == (["signal/unlit"], 1)


def test_what_was_reported_in_the_walk_goes_on_with_the_case(journal: Path) -> None:
    """The crew's words are not touched; the crew is gone, so everyone's checks are proposed again."""
    out = said("debrief", lines=f"{FLIGHT}{WORDS}1\nok\nalso in the dark\nsilence\n")
    assert "Only checks by the crew are proposed" in out
    record = book.read(opened(journal), 1)
    assert record.symptoms == ("signal/dark",)
    assert [one.data["also"] for one in record.entries if "also" in one.data] == ["signal/button-lamp"]
    again = said("debrief", "continue", "1", lines="ok\n")
    assert "the signal lamp stays dark and the signal stays dark in the dark" in again
    assert "Only checks by" not in again
    kept = walked(book.read(opened(journal), 1))
    assert kept is not None
    assert kept["symptoms"] == ["signal/dark", "signal/button-lamp"]
    assert "also reported: the signal stays dark in the dark" in said("debrief", "sheet", "1")


def test_a_real_case_in_a_journal_of_invented_ones_is_told_first() -> None:
    """Once: where real cases stand in it already, somebody has decided that."""
    run("journal", "demo", "--cases", "3")
    words = "holds 3 cases that are invented for demonstration; a real case would stand among them"
    lines = "HM-VLA\n\n\n\nno landing signal\n\n"
    assert words in said("debrief", lines=lines)
    assert words not in said("debrief", lines=lines)
