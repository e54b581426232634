"""What a shell is offered behind an unfinished word."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from faultree.cli.about import COMPLETE
from faultree.cli.commands import NAMES, commands
from tests.journal.cases import debriefed, opened
from tests.walk.small import SIGNAL

OTHER = "faultree: 1\ntitle: Other\nsymptoms:\n  dark: {title: dark here too, event: two}\n"


pytestmark = pytest.mark.usefixtures("here")


def offered(line: str) -> list[str]:
    """The words that bash is offered at the end of a line, where "=" parts no words."""
    environ = {COMPLETE: "bash_complete", "COMP_WORDS": line, "COMP_CWORD": " \n"}
    done = CliRunner().invoke(commands, [], env=environ)
    assert (done.exit_code, done.stderr) == (0, "")
    return [one.partition(",")[2] or f"<{one[:-1]}>" for one in done.stdout.splitlines() if one]


def test_commands() -> None:
    """All of them, and those that begin as typed."""
    assert offered("faultree ") == list(NAMES)
    assert offered("faultree wh") == ["why"]


def test_symptoms_by_their_shortest_id() -> None:
    """With the rest of the line in view: what is named already is not offered again."""
    assert offered("faultree rank ") == ["dark", "doubly-bad", "button-lamp"]
    assert offered("faultree walk d") == ["dark", "doubly-bad"]
    assert offered("faultree rank dark d") == ["doubly-bad"]
    assert offered("faultree why signal/d") == ["signal/dark", "signal/doubly-bad"]


def test_a_short_id_that_means_two_things_is_offered_in_full(here: Path) -> None:
    (here / "trees" / "other.yaml").write_text(OTHER, encoding="utf-8")
    assert offered("faultree rank d") == ["doubly-bad"]
    assert offered("faultree rank o") == ["other/dark"]
    assert set(offered("faultree rank ")) == {"doubly-bad", "button-lamp", "other/dark", "signal/dark"}


def test_both_halves_of_an_answer() -> None:
    """First the checks, then the answers of the one; where only one check fits, its answers at once."""
    assert offered("faultree rank dark --answer ") == ["voltage=", "supply-seen=", "click=", "bench=", "weather="]
    assert offered("faultree rank dark --answer cl") == ["click=silence", "click=click", "click=?"]
    assert offered("faultree rank dark --answer click=s") == ["click=silence"]
    assert offered("faultree rank dark --answer signal/click=s") == ["signal/click=silence"]
    assert offered("faultree rank dark --answer=click=s") == ["click=silence"]
    assert offered("faultree why dark lamp --answer voltage=") == ["voltage=yes", "voltage=no", "voltage=?"]
    assert offered("faultree rank dark --answer none=") == []


def test_a_check_that_has_its_answer_is_not_offered_again() -> None:
    assert offered("faultree rank dark --answer click=silence --answer ") == [
        "voltage=", "supply-seen=", "bench=", "weather=",
    ]  # fmt: skip


def test_what_can_be_asked_about() -> None:
    """Causes, items and checks."""
    assert {"relay-open", "relay", "voltage"} <= set(offered("faultree why dark "))


def test_who_files_and_folders() -> None:
    """The three words of `--by`; files and folders are left to the shell."""
    assert offered("faultree walk --by ") == ["crew", "line", "shop"]
    assert offered("faultree walk --case ") == ["<file>"]
    assert offered("faultree --library ") == ["<dir>"]
    assert offered("faultree lint ") == ["<file>"]


def test_the_library_that_is_named_counts(here: Path) -> None:
    """Before the command or behind it."""
    (here / "trees").rename(here / "others")
    assert offered("faultree rank --library others d") == ["dark", "doubly-bad"]
    assert offered("faultree --library others rank d") == ["dark", "doubly-bad"]


def test_a_broken_library_still_completes(here: Path) -> None:
    """An author completes while writing."""
    broken = SIGNAL.replace("follows: supply", "follows: suply")
    (here / "trees" / "signal.yaml").write_text(broken, encoding="utf-8")
    assert offered("faultree rank dou") == ["doubly-bad"]


# --- of the journal, and files -----------------------------------------------------------------


@pytest.fixture
def journal(here: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Two cases in a journal that the environment names."""
    path = here / "journal.sqlite"
    monkeypatch.setenv("FAULTREE_JOURNAL", str(path))
    store = opened(path)
    debriefed(store)
    debriefed(store, words=("no landing signal", "coffee  was\ncold"))
    store.close()
    return path


@pytest.mark.usefixtures("journal")
def test_cases_by_number_newest_first() -> None:
    for command in ("debrief sheet", "debrief continue", "debrief end", "debrief add", "journal show"):
        assert offered(f"faultree {command} ") == ["2", "1"], command
    assert offered("faultree debrief sheet 2") == ["2"]


@pytest.mark.usefixtures("journal")
def test_a_shell_with_room_shows_what_each_case_is() -> None:
    """Day, aircraft, state and the crew's words."""
    environ = {COMPLETE: "zsh_complete", "COMP_WORDS": "faultree debrief sheet ", "COMP_CWORD": "3"}
    out = CliRunner().invoke(commands, [], env=environ).stdout
    assert "2031-05-04 HM-VLA, open" in out
    assert "no landing signal; coffee was cold" in out


@pytest.mark.usefixtures("journal")
def test_what_a_case_is_corrected_and_ended_with() -> None:
    """Its squawks, the symptoms (or none of them), causes and items."""
    assert offered("faultree debrief correct 2 ") == ["1", "2"]
    assert offered("faultree debrief correct 2 1 --means d") == ["dark", "doubly-bad"]
    assert offered("faultree debrief correct 2 1 --means n") == ["none"]
    assert offered("faultree debrief end 1 --cause lamp") == ["lamp-broken"]
    assert offered("faultree debrief end 1 --item la") == ["lamp"]
    assert offered("faultree journal list --aircraft h") == ["HM-VLA"]


def test_a_journal_that_is_not_there_is_not_made(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nor is one brought up to date that another version made, and a server is not asked."""
    monkeypatch.setenv("FAULTREE_JOURNAL", str(here / "none.sqlite"))
    assert offered("faultree debrief sheet ") == []
    assert not (here / "none.sqlite").exists()
    (here / "other.sqlite").write_text("no journal", encoding="utf-8")
    assert offered("faultree debrief sheet --journal other.sqlite ") == []
    assert offered("faultree debrief sheet --journal mysql://x ") == []
    monkeypatch.setenv("FAULTREE_JOURNAL", "postgresql://nobody@127.0.0.1:1/x")
    assert offered("faultree debrief correct 1 ") == []


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("export dark --to ", ["open-psa", "matrix", "graphml", "json"]),
        ("export dark --to json -o ", ["<file>"]),
        ("import ", ["<file>"]),
        ("import x.csv -o ", ["<dir>"]),
        ("import x.csv --from ", ["open-psa", "matrix"]),
        ("import x.csv --likelihood f", ["frequent"]),
        ("draw dark -o ", ["<file>"]),
        ("debrief sheet 1 -o ", ["<file>"]),
        ("practice set dark -o ", ["<file>"]),
        ("practice mark r.json --curve ", ["<file>"]),
        ("journal import ", ["<file>"]),
    ],
)
def test_forms_and_files_to_write_and_to_read(line: str, words: list[str]) -> None:
    assert offered(f"faultree {line}") == words
