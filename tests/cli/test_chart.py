"""The chart from the command line: as text, as plain data, in a file, compared, and with every problem said."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from faultree.cli import chart
from faultree.cli.commands import commands
from faultree.strategy.chart.compile import compile_chart
from faultree.strategy.chart.value import Chart
from faultree.walk.prompt import NOTICE, SHORT_NOTICE
from tests.walk.small import small

pytestmark = pytest.mark.usefixtures("here")


def _run(*arguments: str) -> Result:
    return CliRunner().invoke(commands, ["chart", *arguments])


def _chart(*arguments: str) -> str:
    done = _run(*arguments)
    assert (done.exit_code, done.stderr) == (0, "")
    return done.stdout


def test_the_chart_is_shown_with_its_proof_and_the_notice() -> None:
    """From the head to who decides."""
    flat = " ".join(_chart("dark").split())
    assert "Expected " in flat
    assert "no chart can be below that." in flat
    assert NOTICE in flat
    assert flat.endswith(SHORT_NOTICE)


def test_plain_data_is_a_saved_chart() -> None:
    """It reads back as the chart that Python compiles."""
    data: dict[str, Any] = json.loads(_chart("dark", "--json"))
    assert data["notice"] == NOTICE
    assert data["nodes"] == json.loads(json.dumps(compile_chart(small(), ["dark"]).to_dict()))["nodes"]
    assert Chart.from_dict(small(), data).optimal


@pytest.mark.parametrize("goal", ["cause", "item", "restore"])
def test_every_goal_can_be_asked_for(goal: str) -> None:
    """And is named in what comes out."""
    assert json.loads(_chart("dark", "--goal", goal, "--json"))["goal"] == goal


def test_a_chart_for_the_crew_says_where_the_work_goes_on() -> None:
    """The crew part ends with who continues with what."""
    flat = " ".join(_chart("dark", "--by", "crew").split())
    assert "Crew only" in flat
    assert "Continue on the line with: " in flat or "Continue in the shop with: " in flat


def test_a_chart_goes_to_a_file(here: Path) -> None:
    """As text for paper, 80 columns wide and plain, or as plain data where the name says so."""
    assert _chart("dark", "-o", "dark.txt") == "Wrote dark.txt.\n"
    text = (here / "dark.txt").read_text(encoding="utf-8")
    assert text.startswith("Troubleshooting chart: the signal lamp stays dark")
    assert max(map(len, text.splitlines())) <= 80
    assert "\x1b" not in text
    assert "To hand over, filled in by hand" in text
    assert f"Compiled from the tree files {small().digest[:12]}" in text
    _chart("dark", "-o", "dark.json")
    assert json.loads((here / "dark.json").read_text(encoding="utf-8"))["chart"] == 1
    _chart("dark", "-o", "dark.txt")
    _chart("dark", "-o", "dark.json")  # a chart of ours may be replaced


@pytest.mark.parametrize("name", ["dark.pdf", "dark.HTML", "dark.svg"])
def test_a_file_that_promises_a_drawing_is_refused_with_what_makes_one(here: Path, name: str) -> None:
    """Plain text under that name opens nowhere."""
    done = _run("dark", "-o", name)
    assert done.exit_code == 1
    assert f"faultree draw dark --as chart -o {name}" in done.stderr
    assert not (here / name).exists()


def test_what_is_no_chart_is_not_replaced(here: Path) -> None:
    """Somebody's notes stay."""
    (here / "notes.txt").write_text("my notes", encoding="utf-8")
    done = _run("dark", "-o", "notes.txt")
    assert done.exit_code == 1
    assert "notes.txt is there already, and is left as it is" in done.stderr
    assert (here / "notes.txt").read_text(encoding="utf-8") == "my notes"
    _chart("dark", "-o", "notes.txt", "--force")
    assert (here / "notes.txt").read_text(encoding="utf-8").startswith("Troubleshooting chart: ")


@pytest.mark.usefixtures("here")
def test_a_place_that_is_not_there_is_said_before_the_search(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody waits for a chart that could not be written."""
    monkeypatch.setattr("faultree.cli.chart.compiled", lambda *_: pytest.fail("it was searched for"))
    done = _run("dark", "-o", "missing/folder/dark.txt")
    assert done.exit_code == 1
    assert "there is no folder" in done.stderr


def test_a_chart_is_held_against_a_list_and_against_rules(here: Path) -> None:
    """All of them in one table, and where each parts from the chart."""
    (here / "mine.yaml").write_text("- weather\n- voltage\n- click\n", encoding="utf-8")
    flat = " ".join(_chart("dark", "--against", "mine.yaml", "--against", "bits", "--against", "likelihood").split())
    for words in ("mine.yaml", "skipping what tells nothing", "greedy by bits", "by likelihood alone", "parts from"):
        assert words in flat
    data = json.loads(_chart("dark", "--against", "mine.yaml", "--against", "bits", "--json"))
    names = [one["name"] for one in data["against"]]
    readings = ["mine.yaml", "mine.yaml, skipping what tells nothing", "mine.yaml, then carried on"]
    assert names == [*readings, "greedy by bits"]
    assert all(one["chart"]["expected_minutes"] > 0.0 for one in data["against"])
    assert data["against"][0]["partings"][0]["way"] == []


def test_every_problem_of_a_list_is_said_at_once(here: Path) -> None:
    """With file and line, and nothing is compiled."""
    (here / "mine.yaml").write_text("- wether\n- voltage\n- clik\n", encoding="utf-8")
    done = _run("dark", "--against", "mine.yaml")
    assert done.exit_code == 1
    assert done.stdout == ""
    assert [line.partition(";")[0] for line in done.stderr.splitlines()] == [
        "mine.yaml:1:3: unknown check 'wether'",
        "mine.yaml:3:3: unknown check 'clik'",
    ]


def test_a_list_that_is_no_text_is_a_problem(here: Path) -> None:
    """A picture by mistake."""
    (here / "mine.yaml").write_bytes(b"\xff\xfe\x00")
    done = _run("dark", "--against", "mine.yaml")
    assert done.exit_code == 1
    assert "mine.yaml: this is no UTF-8 text" in done.stderr


@pytest.mark.parametrize(
    ("arguments", "code", "message"),
    [
        ((), 2, "SYMPTOM"),
        (("dim",), 1, "unknown symptom 'dim'"),
        (("dark", "--goal", "guess"), 2, "guess"),
        (("dark", "--limit", "-1"), 2, "-1"),
        (("dark", "--against", "nothing.yaml"), 2, "is no file, and none of bits, bits-per-minute, likelihood"),
        (("dark", "--by", "crew", "--goal", "restore"), 1, "a crew replaces nothing"),
    ],
)
def test_wrong_use_is_said(arguments: tuple[str, ...], code: int, message: str) -> None:
    """With the exit code that tells whose mistake it was."""
    done = _run(*arguments)
    assert done.exit_code == code
    assert message in " ".join(done.stderr.split())


def test_a_search_without_time_still_gives_a_chart() -> None:
    """The best known, with a bound below it, and it says that it was stopped."""
    data = json.loads(_chart("dark", "--limit", "0", "--json"))
    assert data["stopped"]
    assert data["lower_bound"] <= data["expected_minutes"]
    assert "Stopped" in _chart("dark", "--limit", "0")


def test_a_chart_is_shorter_where_it_is_cut_off_earlier() -> None:
    """Branches that rest on unlikely answers are left to the walk."""
    long = json.loads(_chart("dark", "--cut", "0", "--json"))
    short = json.loads(_chart("dark", "--cut", "0.1", "--json"))
    assert len(short["nodes"]) < len(long["nodes"])
    assert long["cut"] == 0.0 < short["cut"]


def test_a_long_search_says_how_far_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """The least that a chart can cost so far, and how to end the search."""
    told: list[tuple[str, int, int]] = []

    class Recorder:
        """Stands in for the bar of a terminal."""

        def __enter__(self) -> Recorder:
            return self

        def __exit__(self, *error: object) -> None:
            """Nothing is shown."""

        def __call__(self, words: str, done: int = 0, total: int = 0) -> None:
            told.append((words, done, total))

    monkeypatch.setattr(chart, "waiting", lambda words: Recorder())
    monkeypatch.setattr(chart, "PAUSE", -1.0)
    _chart("dark", "--limit", "30")
    assert told
    assert all("no chart below" in words.lower() and "Ctrl-C" in words for words, _, _ in told)
    assert all(0 <= done <= total == 300 for _, done, total in told)
