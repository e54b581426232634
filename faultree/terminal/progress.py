"""A progress bar for long work: on standard error, only where that is a terminal, and only once the work is long."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TextIO

from rich.progress import BarColumn, Progress, TextColumn

from faultree.terminal.look import Look, console

PATIENCE = 1.0
"""Seconds of work before a bar is worth showing."""

EVERY = 0.1
"""Seconds between two changes of the bar."""

Tell = Callable[[float, str], None]
"""Takes the seconds spent and a few words about the state of the work."""


@contextmanager
def progress_bar(stream: TextIO, look: Look, what: str, limit_s: float) -> Iterator[Tell]:
    """A bar that fills up in `limit_s` seconds and is gone when the work is done."""
    if not stream.isatty():
        yield _silent
        return
    bar = Progress(
        TextColumn("{task.description}", markup=False),
        BarColumn(),
        TextColumn("{task.fields[words]}", markup=False),
        console=console(stream, look),
        transient=True,
    )
    job = bar.add_task(what, total=limit_s, words="")
    last = PATIENCE

    def tell(seconds: float, words: str) -> None:
        nonlocal last
        if seconds >= last:
            if not bar.live.is_started:
                bar.start()
            last = seconds + EVERY
            bar.update(job, completed=min(seconds, limit_s), words=words)

    try:
        yield tell
    finally:
        bar.stop()


def _silent(seconds: float, words: str) -> None:
    """Say nothing: nobody watches."""
