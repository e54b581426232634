"""`practice set` writes an exercise that does not show its answer, and says what cannot be set."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.practice.runs import bad, good, practise


def test_the_file_shows_what_may_be_known_and_not_the_answer(here: Path) -> None:
    """Nobody who opens it in an editor reads the fault; the words, the closed checks and the time are open."""
    out = good("set", "still", "--fault", "valve-shut", "--words", "it sleeps", "--without", "mat", "--minutes", "90",
               "-o", "e.json")  # fmt: skip
    assert "faultree practice --exercise e.json" in out
    text = (here / "e.json").read_text(encoding="utf-8")
    for word in ("it sleeps", "g/mat", "90"):
        assert word in text
    assert "valve" not in text


def test_faults_and_checks_are_named_by_words_too(here: Path) -> None:
    """As an answer is elsewhere; what fits several is asked back."""
    good("set", "still", "--fault", "valve shut", "--without", "the mat", "-o", "words.json")
    good("set", "still", "--fault", "valve-shut", "--without", "mat", "-o", "ids.json")
    assert (here / "words.json").read_text(encoding="utf-8") == (here / "ids.json").read_text(encoding="utf-8")
    assert "pump-dry" in bad("set", "still", "--fault", "pump", "-o", "e.json")


def test_an_exercise_can_be_drawn_instead_of_chosen(here: Path) -> None:
    """By level and seed, the same each time."""
    for name in ("a.json", "b.json"):
        good("set", "still", "--level", "3", "--seed", "9", "-o", name)
    assert (here / "a.json").read_text(encoding="utf-8") == (here / "b.json").read_text(encoding="utf-8")
    assert "two faults at once" in good("--exercise", "a.json")


def test_a_fault_that_does_not_show_the_report_makes_it_a_wrong_one() -> None:
    done = practise("set", "still", "--fault", "mat-torn", "-o", "e.json")
    assert "it is set as a wrong report, and the trainee is told that some reports are wrong" in " ".join(
        done.stderr.split()
    )
    assert "3 of 10 reports are wrong" in good("--exercise", "e.json")


def test_a_time_that_is_too_short_for_the_best_is_said() -> None:
    done = practise("set", "still", "--fault", "pump-worn", "--minutes", "20", "-o", "e.json")
    assert done.exit_code == 0
    assert "The best strategy takes longer than that here" in " ".join(done.stderr.split())


@pytest.mark.parametrize(
    ("arguments", "words", "code"),
    [
        (("--fault", "wombat"), "unknown cause 'wombat'", 1),
        (("--without", "wombat"), "unknown check 'wombat'", 1),
        (("--fault", "pump-dry", "--fault", "pump-worn"), "belong to one item, and exclude each other", 1),
        (("--fault", "pump-dry", "--nothing-wrong"), "--nothing-wrong hides no fault", 2),
    ],
)
def test_what_cannot_be_set_is_refused(here: Path, arguments: tuple[str, ...], words: str, code: int) -> None:
    assert words in bad("set", "still", *arguments, "-o", "e.json", code=code)
    assert not (here / "e.json").exists()


def test_a_file_that_is_there_stays_as_it_is(here: Path) -> None:
    (here / "e.json").write_text("mine", encoding="utf-8")
    assert "e.json is there already" in bad("set", "still", "-o", "e.json")
    assert (here / "e.json").read_text(encoding="utf-8") == "mine"
