"""What a shell is offered behind an unfinished word."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from faultree.cli.about import COMPLETE
from faultree.cli.commands import NAMES, commands
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
