"""What the commands of practice share: the journal, files of exercises and runs, and the time allowed."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from faultree.base.errors import CaseError

if TYPE_CHECKING:
    from faultree.journal.store import Store

journal_option = click.option(
    "--journal", metavar="FILE", help="The journal that keeps runs. Default: 'faultree journal where' says."
)
learner_option = click.option("--learner", default="", metavar="NAME", help="Whose run it is; initials are enough.")


def open_journal(named: str | None) -> Store:
    """The journal meant; raises JournalError."""
    from faultree.base.clock import system_clock
    from faultree.journal.place import where
    from faultree.journal.store import open_store

    return open_store(where(named, os.environ, sys.platform, Path.home()), system_clock)


def read_data(path: Path) -> Mapping[str, Any]:
    """The plain data of an exercise or run file; CaseError where it cannot be read."""
    try:
        found = json.loads(path.read_text(encoding="utf-8-sig"))
    except OSError as error:
        raise CaseError(f"{path} cannot be read: {error.strerror or error}") from error
    except ValueError as error:
        raise CaseError(f"{path} is no exercise or run of faultree: {error}") from error
    if not isinstance(found, dict):
        raise CaseError(f"{path} is no exercise or run of faultree: it holds no mapping")
    return found


def write_data(path: Path, data: Mapping[str, object], *, over: bool = False) -> None:
    """Write plain data whole or not at all; CaseError where the file is there already, or cannot be written."""
    from faultree.terminal import files

    if path.exists() and not over:
        raise CaseError(f"{path} exists already; name another file")
    try:
        files.write(path, json.dumps(data, indent=2, ensure_ascii=False) + "\n")
    except OSError as error:
        raise CaseError(f"{path} cannot be written: {error.strerror or error}") from error
