"""A lock that a process holds on a file for as long as it lives, however it ends."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

if sys.platform == "win32":
    import msvcrt

    def _take(handle: int) -> None:
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _take(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


@dataclass(frozen=True, slots=True)
class Lock:
    """A lock that is held; the system lets go of it when the process ends, be it killed."""

    path: Path
    handle: int

    def release(self) -> None:
        """Let go, and take the lock's file away."""
        # On Windows an open file cannot be removed; elsewhere it is removed first, so that nobody takes a dead one.
        if sys.platform != "win32":
            self.path.unlink(missing_ok=True)
        os.close(self.handle)
        if sys.platform == "win32":
            with suppress(OSError):
                self.path.unlink(missing_ok=True)


def claim(path: Path) -> Lock | None:
    """The lock at `path`, or None where another process (or another walk of this one) holds it.

    Where the file system knows no locks, it is given without one. Raises OSError where the file cannot be made.
    """
    while True:
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
        try:
            _take(handle)
        except (BlockingIOError, PermissionError):
            os.close(handle)
            return None
        except OSError:
            return Lock(path, handle)
        if _same(path, handle):
            return Lock(path, handle)
        os.close(handle)  # its last holder has removed it in between


def _same(path: Path, handle: int) -> bool:
    try:
        return os.path.samestat(path.stat(), os.fstat(handle))
    except OSError:
        return False
