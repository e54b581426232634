"""Puts a file on the disk: a new one that replaces none, or the whole of it in place of the old.

Every file that faultree writes for its user is written here. It is written under another name beside its place, is
on the disk, and only then takes its place, so a crash or a full disk leaves the old file or none, never half of one.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path


def create(path: Path, content: str | bytes) -> None:
    """Write a new file; FileExistsError where there is one, whatever it is, and OSError where it cannot be."""
    with _beside(path, content, 0o666) as beside:
        if os.path.lexists(path):
            raise FileExistsError(17, "it is there already", str(path))
        try:
            os.link(beside, path)  # never replaces anything, even what was made a moment ago
        except FileExistsError:
            raise
        except OSError:  # a file system without such links
            beside.replace(path)


def replace(path: Path, content: str | bytes, mode: int = 0o666) -> None:
    """Write a whole file or nothing: a crash half way leaves the old one as it was. Raises OSError.

    The file keeps its permissions (a new one gets `mode`, less what the process masks), and a link still leads to it.
    """
    path = Path(os.path.realpath(path))
    if path.exists() and not path.is_file():
        raise FileExistsError(17, "it is no ordinary file", str(path))
    with _beside(path, content, mode) as beside:
        if path.exists():
            shutil.copymode(path, beside)
        beside.replace(path)


@contextmanager
def _beside(path: Path, content: str | bytes, mode: int) -> Iterator[Path]:
    """The content in a file of its own beside its place, on the disk and not only on its way there."""
    # The reader of tree files passes over names that begin with a dot; a short one is never too long.
    beside = path.with_name(f".faultree-{os.getpid()}.part")
    try:
        with suppress(OSError):
            beside.unlink()  # of a process that was killed, and had this number
        handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode)
        with os.fdopen(handle, "wb") as stream:
            stream.write(content.encode("utf-8") if isinstance(content, str) else content)
            stream.flush()
            os.fsync(stream.fileno())
        yield beside
    except OSError as error:
        # What went wrong is about the file that was meant.
        raise OSError(error.errno, error.strerror, str(path)) from error
    finally:
        with suppress(OSError):
            beside.unlink()
    _settle(path.parent)


def _settle(folder: Path) -> None:
    """Have the new name on the disk too, where the system can be asked for that."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
