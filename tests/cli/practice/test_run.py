"""`faultree practice`: which exercise is set, what is kept, taken up and written, from lines of a pipe."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from faultree.journal.place import where
from tests.cli.practice.runs import BEST, bad, good, practise, set_motor
from tests.practice.small import GATE


def test_a_symptom_begins_an_exercise_and_the_input_ends_it_politely() -> None:
    """Without an end of its own the run says how far it was, and that nothing was kept."""
    out = good("still", "--seed", "1", lines="listen\n")
    assert "Practice > listen" in out
    assert out.rstrip().endswith("Left after 2 min of work.\nIt was not kept.")


def test_a_run_without_any_line_begins_and_ends() -> None:
    assert "It was not kept." in good("still", "--seed", "1")


def test_a_run_that_was_left_says_what_its_file_holds(here: Path) -> None:
    out = good("still", "--seed", "1", "-o", "run.json", lines="listen\n")
    assert out.rstrip().endswith("run.json holds the run so far; without an end it has no mark.")
    assert "not kept" not in out
    assert "listen" in (here / "run.json").read_text(encoding="utf-8")


@pytest.mark.parametrize("level", ["1", "2", "3", "4"])
def test_a_code_sets_the_same_exercise_on_a_copy_of_the_library(here: Path, level: str) -> None:
    """Two folders with the same files: the same words, the same answers, the same mark, line by line."""
    shutil.copytree(here / "trees", here / "copy")
    lines = "look\nlisten\ngauge\nok\nlook into\nok\nhand over pump\n"
    first = good("still", "--seed", "12345", "--level", level, lines=lines)
    code = next(line.split()[1] for line in first.splitlines() if line.strip().startswith("Code"))
    assert good("--code", code, "--library", "copy", lines=lines) == first
    assert good("--code", code.lower().replace("-", ""), lines=lines) == first


def test_a_code_of_another_version_of_the_library_is_explained(here: Path) -> None:
    """Never another exercise under the same code."""
    out = good("still", "--seed", "5")
    code = next(line.split()[1] for line in out.splitlines() if line.strip().startswith("Code"))
    (here / "trees" / "g.yaml").write_text(GATE.replace("minutes: 30", "minutes: 31"), encoding="utf-8")
    assert "belongs to another version of the tree files" in bad("--code", code)


def test_an_exercise_file_is_done_with_its_words_closed_checks_and_time() -> None:
    set_motor("e.json", "--words", "it sleeps", "--without", "mat", "--minutes", "36")
    out = good("--exercise", "e.json", "--mode", "exam", lines="mat\ng/mat\nundo\nhint\ngauge\nok\nreplace valve\nok\n")
    flat = " ".join(out.split())
    for words in (
        "“it sleeps”",
        "the work may take 36 min",
        "No check left fits 'mat'",
        "This check cannot be made today.",
        "'undo' is not possible in the mode exam",
        "'hint' is not possible",
        "The time is up. Mark:",
    ):
        assert words in flat


def test_the_clock_ends_a_run(monkeypatch: pytest.MonkeyPatch) -> None:
    """--time counts minutes on the clock, not minutes of work."""
    from datetime import timedelta

    from faultree.base import clock

    begun = clock.system_clock()
    ticks = iter(range(1000))
    monkeypatch.setattr(clock, "system_clock", lambda: begun + timedelta(minutes=next(ticks)))
    out = good("still", "--seed", "1", "--time", "3", lines="mat\n" * 50)
    assert "The time is up. Mark:" in out


def test_a_doubtful_report_from_end_to_end() -> None:
    """Level 4: told, looked at, and handed over where it is wrong."""
    good("set", "still", "--nothing-wrong", "-o", "e.json")
    out = good("--exercise", "e.json", lines="look\nhand over\n")
    flat = " ".join(out.split())
    assert "3 of 10 reports are wrong: look repeats the operational check" in flat
    assert "the report was wrong; nothing was at fault" in flat
    assert "Handed over. Mark: 100 of 100" in out


def test_of_several_ways_to_choose_only_one_is_named() -> None:
    assert "name one of SYMPTOM and --next, not both" in bad("still", "--next", code=2)
    assert "unknown symptom" in bad("wombat")


@pytest.mark.parametrize("way", [("--code", "x"), ("--exercise", "e.json"), ("--resume",)])
def test_what_says_which_exercise_it_is_takes_no_level_and_seed(way: tuple[str, ...]) -> None:
    """Otherwise one of the two would be passed over in silence."""
    assert f"{way[0]} says which exercise it is; leave --level and --seed out" in bad(*way, "--seed", "3", code=2)


# --- kept, left and taken up -------------------------------------------------------------------


def test_a_run_that_was_left_is_taken_up_where_it_was() -> None:
    set_motor()
    out = good("--exercise", "e.json", "--journal", "j.sqlite", "--learner", "ada", lines="gauge\n")
    assert "'faultree practice --resume --learner ada' takes it up" in " ".join(out.split())
    out = good("--resume", "--journal", "j.sqlite", "--learner", "ada", lines=f"ok\n{BEST}")
    assert "WARNING The gate moves" in out
    assert "The symptom is gone. Mark:" in out
    assert "no exercise was left" in bad("--resume", "--journal", "j.sqlite", "--learner", "ada")


def test_learners_are_kept_apart() -> None:
    set_motor()
    good("--exercise", "e.json", "--journal", "j.sqlite", "--learner", "ada", lines="listen\n")
    assert "no exercise was left" in bad("--resume", "--journal", "j.sqlite", "--learner", "bo")


def test_a_script_is_not_asked_and_gives_up_nothing() -> None:
    """Without a symptom, a run that was left stays there for --resume."""
    set_motor()
    good("--exercise", "e.json", "--journal", "j.sqlite", lines="listen\n")
    out = good("--journal", "j.sqlite", "--seed", "3", lines="listen\nhand over pump\n")
    assert "Chosen: The gate does not move (not practised yet)." in out
    assert "Listen to the motor: No" in good("--resume", "--journal", "j.sqlite", lines="quit\n")


def test_a_run_of_another_version_of_the_library_is_not_taken_up_silently(here: Path) -> None:
    good("still", "--seed", "1", "--journal", "j.sqlite", lines="listen\n")
    (here / "trees" / "g.yaml").write_text(GATE.replace("minutes: 30", "minutes: 31"), encoding="utf-8")
    assert "it belongs to another version of them" in bad("--resume", "--journal", "j.sqlite")


def test_the_clock_runs_on_while_a_run_is_left(monkeypatch: pytest.MonkeyPatch) -> None:
    from datetime import timedelta

    from faultree.base import clock

    begun = clock.system_clock()
    good("still", "--seed", "1", "--time", "30", "--journal", "j.sqlite", lines="listen\n")
    monkeypatch.setattr(clock, "system_clock", lambda: begun + timedelta(minutes=31))
    assert "The time is up. Mark:" in good("--resume", "--journal", "j.sqlite", lines="gauge\nok\n")


@pytest.mark.parametrize("place", ["trees/g.yaml/j.sqlite", "broken.sqlite"])
def test_a_journal_that_cannot_be_used_stops_no_exercise(here: Path, place: str) -> None:
    """It is said before the exercise begins; the mark comes all the same."""
    (here / "broken.sqlite").write_text("this is no database " * 100, encoding="utf-8")
    set_motor()
    done = practise("--exercise", "e.json", "--journal", place, lines=BEST)
    assert done.exit_code == 0
    assert "This run is not kept: " in done.stderr
    assert "The exercise goes on." in " ".join(done.stderr.split())
    assert "Mark: 100 of 100" in done.stdout
    assert bad("--resume", "--journal", place).startswith(("Error: the journal", "Error: there is no journal"))


def test_the_journal_of_custom_lies_outside_the_library(here: Path) -> None:
    """Wherever the tree files are: what learners did never travels with them."""
    set_motor()
    good("--exercise", "e.json", "--keep", lines=BEST)
    custom = here / "home"
    assert [one.name for one in custom.rglob("journal.sqlite")] == ["journal.sqlite"]
    assert [one.name for one in (here / "trees").iterdir()] == ["g.yaml"]
    for platform in ("linux", "darwin", "win32"):
        kept = where(None, {}, platform, custom).file
        assert kept is not None
        assert custom in kept.parents


# --- files -------------------------------------------------------------------------------------


def test_a_run_and_its_picture_are_written(here: Path) -> None:
    set_motor()
    good("--exercise", "e.json", "-o", "r.json", "--curve", "r.svg", "--learner", "ada", lines=BEST)
    data = json.loads((here / "r.json").read_text(encoding="utf-8"))
    assert [one["event"] for one in data["events"]] == ["Ask", "PutRight"]
    assert "motor-dead" not in json.dumps(data["exercise"])
    assert "mark 100 of 100" in (here / "r.svg").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("arguments", "words", "code"),
    [
        (("-o", "e.json"), "e.json is there already", 1),
        (("-o", "no/r.json"), "there is no folder no", 1),
        (("--curve", "r.png"), "end it in .svg", 2),
    ],
)
def test_a_file_that_could_not_be_written_is_refused_before_the_run(
    arguments: tuple[str, ...], words: str, code: int
) -> None:
    """Not after an hour of work."""
    set_motor()
    done = practise("--exercise", "e.json", *arguments, lines=BEST)
    assert done.exit_code == code
    assert words in " ".join(done.stderr.split())
    assert "Found" not in done.stdout
