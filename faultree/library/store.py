"""Puts the text of a file on the disk: a new file that replaces none, or the whole text in place of the old."""

from __future__ import annotations

import os
import shutil
from pathlib import Path


def create(path: Path, text: str) -> None:
    """Write a new file; FileExistsError where there is one, whatever it is, and OSError where it cannot be."""
    with path.open("x", encoding="utf-8", newline="") as file:
        file.write(text)


def replace(path: Path, text: str) -> None:
    """Write a whole file or nothing: a crash half way leaves the old one as it was. Raises OSError.

    The file keeps its permissions, and a link still leads to it.
    """
    path = path.resolve()
    # The reader passes over names that begin with a dot.
    beside = path.with_name(f".{path.name}.part")
    try:
        with beside.open("w", encoding="utf-8", newline="") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        if path.exists():
            shutil.copymode(path, beside)
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)
