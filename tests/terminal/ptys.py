"""A process at a terminal of its own: typed to, read from, resized, and left."""

from __future__ import annotations

import contextlib
import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import sys
import termios
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from time import monotonic

from tests.house.source import ROOT

PATIENCE = 60.0
"""Seconds after which what is waited for does not come; a busy machine may take long for a process to start."""

PAUSE = 1.5
"""Seconds after which a person presses a key again that led to nothing."""

CONTROL = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]|\x1b[=>]|\x1b\][^\x07]*\x07|\x1b[()][A-Z0-9]|[\r\x07]")
"""What moves a cursor, changes a colour or rings a bell."""

PROGRAM = (sys.executable, "-m", "faultree")


class Terminal:
    """The far end of a terminal at which a process runs; `text` is all that it has shown so far."""

    def __init__(self, process: subprocess.Popen[bytes], master: int) -> None:
        self.process = process
        self.master = master
        self.raw = b""

    @property
    def text(self) -> str:
        """What was shown, without colours and movements of the cursor."""
        return CONTROL.sub("", self.raw.decode("utf-8", "replace"))

    def type(self, keys: str) -> None:
        """Send keys."""
        os.write(self.master, keys.encode())

    def wait(self, words: str, count: int = 1, patience: float = PATIENCE) -> str:
        """Read until some words have been shown so many times; all that was shown."""
        end = monotonic() + patience
        while self.text.count(words) < count:
            assert monotonic() < end, f"{words!r} did not come; shown was {self.text!r}"
            if not self._read(end - monotonic()):
                assert self.text.count(words) >= count, f"{words!r} never came; shown was {self.text!r}"
        return self.text

    def press(self, keys: str, words: str) -> None:
        """Press keys that end a line or interrupt, as a person does: again, where they led to nothing.

        Pressed while the line editor is only about to listen, Ctrl-C waits for the next key and Ctrl-D is lost.
        """
        count = self.text.count(words)
        end = monotonic() + PATIENCE
        while self.text.count(words) == count:
            assert monotonic() < end, f"{words!r} did not come; shown was {self.text!r}"
            self.type(keys)
            soon = monotonic() + PAUSE
            while monotonic() < soon and self.text.count(words) == count:
                if not self._read(soon - monotonic()):
                    assert self.text.count(words) > count, f"{words!r} never came; shown was {self.text!r}"

    def leave(self, keys: str = "") -> int:
        """Read to the end; the exit code. Keys are pressed until the process ends, as in `press`."""
        end = again = monotonic()
        end += PATIENCE
        while True:
            if keys and monotonic() >= again:
                with contextlib.suppress(OSError):  # it may have ended by now
                    self.type(keys)
                again = monotonic() + PAUSE
            if not self._read(max(end - monotonic(), 0.1)):
                return self.process.wait(PATIENCE)
            assert monotonic() < end, f"the process does not end; shown was {self.text!r}"

    def drain(self) -> str:
        """Read what is left after the process has been ended from outside; all that was shown."""
        self.process.wait(PATIENCE)
        while select.select([self.master], [], [], 0)[0] and self._read(0):
            pass
        return self.text

    def close(self) -> None:
        """Take the far end of the terminal away, as when a window is closed."""
        os.close(self.master)
        self.master = -1

    def resize(self, columns: int, lines: int) -> None:
        """Give the window another size, as its user would."""
        fcntl.ioctl(self.master, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))
        os.kill(self.process.pid, signal.SIGWINCH)

    def _read(self, seconds: float) -> bool:
        """Read what there is; false at the end."""
        if not select.select([self.master], [], [], min(seconds, 0.2))[0]:
            return True
        try:
            found = os.read(self.master, 65_536)
        except OSError:  # Linux ends a terminal that way
            return False
        self.raw += found
        return bool(found)


@contextmanager
def terminal(
    arguments: Sequence[str],
    *,
    columns: int = 80,
    lines: int = 24,
    folder: Path = ROOT,
    environ: Mapping[str, str] | None = None,
) -> Iterator[Terminal]:
    """A process at a new terminal; killed at the end if it still runs."""
    master, slave = pty.openpty()
    fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))
    kept = {key: os.environ[key] for key in ("PATH", "HOME") if key in os.environ}
    chosen = {**kept, "TERM": "xterm-256color", "LANG": "C.UTF-8", "PYTHONPATH": str(ROOT), **(environ or {})}
    process = subprocess.Popen(
        arguments, stdin=slave, stdout=slave, stderr=slave, cwd=folder, env=chosen, start_new_session=True,
        preexec_fn=lambda: fcntl.ioctl(0, termios.TIOCSCTTY, 0),
    )  # fmt: skip
    os.close(slave)
    made = Terminal(process, master)
    try:
        yield made
    finally:
        with contextlib.suppress(ProcessLookupError):
            process.kill()
        process.wait()
        if made.master >= 0:
            os.close(master)
