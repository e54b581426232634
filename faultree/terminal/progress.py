"""Says that something takes time: nothing for the first second, then a bar, or a line of text where there is no bar.

Whatever is shown goes to standard error, and only where that is a terminal: a file and a pipe stay clean.
"""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from threading import Lock, Timer
from types import TracebackType
from typing import TYPE_CHECKING, Self, TextIO

if TYPE_CHECKING:
    from rich.progress import Progress

AFTER = 1.0
"""Seconds before anything is shown."""


class Waiting:
    """Around work that may take long: `with Waiting(words, stream, environ) as at: at("rule 3", 3, 18)`.

    The bar runs in a thread of its own, so that the work need not call in. At the end it is gone without a
    trace; a line of text stays.
    """

    def __init__(self, words: str, stream: TextIO, environ: Mapping[str, str], after: float = AFTER) -> None:
        self._whole = self._words = words
        self._stream = stream
        self._environ = environ
        self._after = after
        self._done, self._total = 0, 0
        self._lock = Lock()
        self._timer: Timer | None = None
        self._bar: Progress | None = None
        self._over = False

    def __enter__(self) -> Self:
        if self._stream.isatty():
            self._timer = Timer(self._after, self._begin)
            self._timer.daemon = True
            self._timer.start()
        return self

    def __call__(self, words: str, done: int = 0, total: int = 0) -> None:
        """Say what is at hand now, and how many of how many pieces are done (none: not known)."""
        with self._lock:
            self._words, self._done, self._total = words, done, total
            self._update()

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._timer is not None:
            self._timer.cancel()
        with self._lock:
            self._over = True
            if self._bar is not None:
                self._bar.stop()

    def _begin(self) -> None:
        """The second is over: show what is at hand."""
        from faultree.terminal.look import look_of

        look = look_of(self._stream, self._environ)
        with self._lock, suppress(OSError, ValueError):  # a terminal that is gone is no reason to stop the work
            if self._over:
                return
            if look.plain:
                self._stream.write(f"{self._whole}; please wait.\n")
                self._stream.flush()
                return
            self._bar = self._made()
            self._bar.start()
            self._update()

    def _made(self) -> Progress:
        from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

        from faultree.terminal.look import Look, console

        columns = (TextColumn("{task.description}", markup=False), BarColumn(20), TimeElapsedColumn())
        bar = Progress(*columns, console=console(self._stream, Look(plain=False)), transient=True)
        bar.add_task(self._words, total=None)
        return bar

    def _update(self) -> None:
        if self._bar is not None:
            task = self._bar.task_ids[0]
            self._bar.update(task, description=self._words, completed=self._done, total=self._total or None)
