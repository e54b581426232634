"""A desk for tests of commands that keep a journal: a folder with the small library, and a journal of its own."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from faultree.cli.commands import commands
from tests.walk.small import SIGNAL
from tests.walk.test_reported import LAMP


def small_trees(folder: Path) -> Path:
    """A folder whose `trees` hold the small library from now on."""
    (folder / "trees").mkdir()
    (folder / "trees" / "signal.yaml").write_text(SIGNAL, encoding="utf-8")
    return folder


def other_tree(folder: Path) -> None:
    """Put another library in the place of the small one: nothing that was found with that fits it."""
    (folder / "trees" / "signal.yaml").unlink()
    (folder / "trees" / "lamp.yaml").write_text(LAMP, encoding="utf-8")


def desk(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder whose `trees` hold the small library, and whose journal is the one that commands use; the journal."""
    monkeypatch.chdir(small_trees(folder))
    journal = folder / "journal.sqlite"
    monkeypatch.setenv("FAULTREE_JOURNAL", str(journal))
    return journal


def run(*arguments: str, lines: str = "", code: int = 0) -> Result:
    """A command as it was typed, its input from a pipe; it must end with this exit code."""
    done = CliRunner().invoke(commands, list(arguments), input=lines)
    assert done.exit_code == code, done.output
    return done


def said(*arguments: str, lines: str = "") -> str:
    """What a command writes, its lines joined."""
    return " ".join(run(*arguments, lines=lines).output.split())
