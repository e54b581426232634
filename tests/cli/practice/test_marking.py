"""`practice mark` and `class`: what was done is done again, so that no mark can be written into a file."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.practice.runs import BEST, bad, good, practise, set_motor


def run_of(learner: str, lines: str, name: str) -> str:
    """A run file of a learner on the exercise with the dead motor."""
    good("--exercise", "e.json", "--mode", "exam", "--learner", learner, "-o", name, lines=lines)
    return name


@pytest.fixture(autouse=True)
def exercise(here: Path) -> None:
    """The exercise file that all of them do."""
    del here
    set_motor()


def test_a_saved_run_has_the_mark_that_was_shown(here: Path) -> None:
    out = good("--exercise", "e.json", "-o", "r.json", lines="mat\nlisten\nreplace motor\n")
    shown = out[out.index("The symptom is gone.") :]
    again = good("mark", "r.json", "--curve", "r.svg")
    assert again.startswith("Run, no name given, coached\n")
    assert again[again.index("The symptom is gone.") :] == shown
    assert "<svg" in (here / "r.svg").read_text(encoding="utf-8")


def test_plain_data_has_the_mark_and_the_mistakes() -> None:
    run_of("ada", "mat\nlisten\nreplace motor\n", "r.json")
    found = json.loads(good("mark", "r.json", "--json"))
    assert (found["learner"], found["mode"], found["symptom"], found["ending"]) == (
        "ada",
        "exam",
        "g/still",
        "restored",
    )
    assert found["mistakes"] == ["TOLD_NOTHING"]
    assert 90 < found["mark"] < 100


def test_an_edited_run_is_found_or_marked_for_what_it_is(here: Path) -> None:
    """An event that is not possible is named; a mark written into the file is not looked at."""
    run_of("ada", "mat\nlisten\nreplace motor\n", "r.json")
    data = json.loads((here / "r.json").read_text(encoding="utf-8"))
    honest = json.loads(good("mark", "r.json", "--json"))["mark"]
    (here / "r.json").write_text(json.dumps({**data, "mark": 100}), encoding="utf-8")
    assert json.loads(good("mark", "r.json", "--json"))["mark"] == honest
    (here / "r.json").write_text(json.dumps({**data, "events": data["events"][:1] * 2}), encoding="utf-8")
    assert "event 2 of this run is not possible here" in bad("mark", "r.json")
    data["exercise"]["limit"] = 999
    (here / "r.json").write_text(json.dumps(data), encoding="utf-8")
    assert "was changed after it was sealed" in bad("mark", "r.json")


def test_what_is_no_finished_run_is_refused_in_words(here: Path) -> None:
    run_of("ada", "listen\n", "half.json")
    assert "has not ended; it has no mark yet" in bad("mark", "half.json")
    assert "this is no saved run" in bad("mark", "e.json")
    (here / "x.json").write_text("[", encoding="utf-8")
    assert "x.json is no exercise or run of faultree" in bad("mark", "x.json")
    (here / "x.json").write_text("[]", encoding="utf-8")
    assert "it holds no mapping" in bad("mark", "x.json")
    assert "cannot be read" in bad("mark", "none.json")


def test_a_class_is_one_sheet(here: Path) -> None:
    """Three learners; a file that is none is named, and the rest is shown all the same."""
    runs = [run_of("ada", BEST, "a.json"), run_of("bo", "replace pump\nok\nlisten\nreplace motor\n", "b.json"),
            run_of("cy", "gauge\nskip\nhand over motor\n\n", "c.json")]  # fmt: skip
    out = good("class", *runs)
    assert [line.split()[0] for line in out.splitlines() if "The gate does not move" in line] == ["ada", "bo", "cy"]
    assert "handed over" in " ".join(out.split())
    assert "a caution that was not read (1)" in " ".join(out.split())
    done = practise("class", *runs, "e.json")
    assert done.exit_code == 1
    assert done.stderr.startswith("e.json: this is no saved run")
    assert "ada" in done.stdout
    rows = json.loads(good("class", *runs, "--json"))["runs"]
    assert [one["learner"] for one in rows] == ["ada", "bo", "cy"]
    assert rows[1]["needless"] == ["g/pump"]
    assert rows[0]["mark"] == 100.0 > rows[1]["mark"] > rows[2]["mark"]
    assert (here / "a.json").exists()
