"""`faultree draw` writes what was asked for, or says why not."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from faultree.cli.commands import commands
from tests.diagrams.small import DOOR


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder whose `trees` hold the door."""
    (tmp_path / "trees").mkdir()
    (tmp_path / "trees" / "door.yaml").write_text(DOOR, encoding="utf-8")
    monkeypatch.chdir(tmp_path)


def _draw(*arguments: str) -> Result:
    return CliRunner().invoke(commands, ["draw", *arguments])


def _svg(*arguments: str) -> str:
    """The words of the picture that some arguments give."""
    assert _draw(*arguments, "-o", "out.svg", "--force").exit_code == 0
    return re.sub(r"<[^>]*>", " ", Path("out.svg").read_text(encoding="utf-8"))


def test_without_a_file_the_screen_gets_text() -> None:
    done = _draw("stands")
    assert done.exit_code == 0
    assert "+- (o) door jammed (p = 0.001)" in done.stdout


@pytest.mark.parametrize("ending", ["svg", "png", "pdf", "gv", "mmd", "txt"])
def test_the_ending_of_the_file_says_the_format(ending: str) -> None:
    done = _draw("stands", "-o", f"door.{ending}", "--pixels", "300")
    assert (done.exit_code, done.stdout) == (0, f"Wrote door.{ending}.\n")
    assert Path(f"door.{ending}").stat().st_size > 200
    assert not list(Path().glob(".*.part"))


@pytest.mark.parametrize(("view", "sign"), [("tree", 'id="tree"'), ("chart", 'id="step"')])
def test_a_tree_and_a_chart_can_be_a_page(view: str, sign: str) -> None:
    done = _draw("stands", "--as", view, "-o", "door.html", "--answer", "measure=yes")
    assert (done.exit_code, done.stdout) == (0, "Wrote door.html.\n")
    page = Path("door.html").read_text(encoding="utf-8")
    assert sign in page
    assert "the door stands" in page.casefold()
    assert "http:" not in page.replace("http://www.w3.org", "")


def test_answers_and_a_saved_case_give_the_same_drawing() -> None:
    """What was found can come from the command line or from a file; either way the drawing shows it."""
    Path("case.yaml").write_text(
        "case: 1\nsymptoms: [door/stands]\nsteps: [{check: door/measure, answer: 'yes'}]\n", encoding="utf-8"
    )
    typed, saved = _draw("stands", "--answer", "measure=yes"), _draw("--case", "case.yaml")
    assert "excluded" in typed.stdout
    assert saved.stdout == typed.stdout, saved.stderr


def test_of_a_case_of_several_reports_the_first_is_drawn_or_the_one_that_is_named() -> None:
    """Which one it is, and how to see the others, is said; a report that the case does not have is no report."""
    text = DOOR.replace(
        "symptoms:\n", "symptoms:\n  quiet: {situation: closing, title: the motor is quiet, sees: {running: no}}\n"
    )
    text += "  open: {situation: closing, title: the hatch stands open, sees: {hatch: no}}\n"
    Path("trees/door.yaml").write_text(text, encoding="utf-8")
    Path("case.yaml").write_text("case: 1\nsymptoms: [door/stands, door/quiet]\nsteps: []\n", encoding="utf-8")
    assert "Reported too: the motor is quiet" in " ".join(_svg("stands", "quiet").split())
    assert "the door stands still and the motor is quiet" in _draw("stands", "quiet", "--as", "chart").stdout
    first, second = _draw("--case", "case.yaml"), _draw("quiet", "--case", "case.yaml")
    assert first.stdout.startswith("the door stands still")
    assert "faultree draw door/quiet --case FILE" in first.stderr
    assert second.stdout.startswith("the motor is quiet")
    chart = _draw("--case", "case.yaml", "--as", "chart")
    assert chart.stdout.startswith("the door stands still and the motor is quiet")
    assert chart.stderr == ""
    assert second.stderr == ""
    assert _draw("quiet", "--case", "case.yaml", "-o", "q.html").exit_code == 0
    assert "the motor is quiet" in Path("q.html").read_text(encoding="utf-8").casefold()
    other = _draw("open", "--case", "case.yaml")
    assert other.exit_code == 2
    assert "the case has no report 'door/open', only door/stands, door/quiet" in other.stderr


@pytest.mark.parametrize(
    ("arguments", "words", "code"),
    [
        (("stands", "-o", "door.doc"), "svg, pdf, png, gv, mmd, txt", 1),
        (("stnads", "-o", "door.svg"), "did you mean 'door/stands'", 1),
        ((), "name a symptom or a saved case", 2),
        (("stands", "--case", "x.yaml"), "x.yaml", 1),
        (("--case", "x.yaml", "--answer", "measure=yes"), "leave --answer out", 2),
        (("stands", "-o", "door.html", "--as", "logic"), "a page is made of a tree or a chart", 1),
        (("stands", "-o", "no/such/folder/door.svg"), "there is no folder no/such/folder", 1),
        (("stands", "--as", "poster"), "poster", 2),
    ],
)
def test_what_cannot_be_drawn_is_said_in_words(
    arguments: tuple[str, ...], words: str, code: int, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        commands.main(["draw", *arguments])
    assert left.value.code == code
    assert words in capsys.readouterr().err


def test_a_chart_is_drawn_for_a_purpose_for_some_people_and_without_its_unlikely_branches() -> None:
    assert "repeat the operational check" in _draw("stands", "--as", "chart", "--goal", "restore").stdout
    assert _draw("stands", "--as", "chart", "--by", "crew").stdout != _draw("stands", "--as", "chart").stdout
    assert _draw("stands", "--as", "chart", "--cut", "0.2", "-o", "c.html").exit_code == 0


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--as", "logic", "--depth", "2"), "--depth is for a tree that is drawn; it changes nothing here."),
        (("--as", "matrix", "--whole"), "--whole is for a tree"),
        (("-o", "x.svg", "--pixels", "300"), "--pixels is for a PNG"),
        (("--cut", "0.1"), "--cut is for a chart"),
        (("--goal", "restore"), "--goal is for a chart"),
        (("--depth", "2"), ""),
        (("--as", "chart", "--cut", "0.1"), ""),
    ],
)
def test_an_option_that_changes_nothing_is_told(arguments: tuple[str, ...], words: str) -> None:
    done = _draw("stands", *arguments)
    assert done.exit_code == 0
    assert words in done.stderr
    assert bool(words) == bool(done.stderr)


def test_of_a_chart_of_many_sheets_it_is_said_how_it_becomes_shorter(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("faultree.cli.draw.MANY", 0)
    assert "--cut 0.02 leaves unlikely branches out" in _draw("stands", "--as", "chart", "-o", "c.pdf").stderr
    assert _draw("stands", "-o", "t.pdf").stderr == ""
