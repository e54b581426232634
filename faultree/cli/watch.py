"""Does something again whenever tree files change, until it is interrupted."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import click

from faultree.base.clock import Clock

PAUSE = 0.5
"""Seconds between two looks at the files."""

Stamp = tuple[tuple[str, int, int], ...]
"""The name, time of change and size of each file."""


def stamp(place: Path) -> Stamp:
    """What can be seen of the tree files of a folder, or of the folder of a file, without opening them.

    Empty where the folder cannot be read. The files beside a file count, for its names lead there.
    """
    from faultree.library.load import tree_files

    found = []
    try:
        for path in tree_files(place if place.is_dir() else place.parent):
            try:
                state = path.stat()
            except OSError:
                continue  # it went between the two looks, or is a link that leads nowhere
            found.append((str(path), state.st_mtime_ns, state.st_size))
    except OSError:
        return ()
    return tuple(found)


def watch(show: Callable[[], object], look: Callable[[], Stamp], sleep: Callable[[float], None], clock: Clock) -> None:
    """Show once, then again after every change; Ctrl-C ends it.

    A change counts when two looks see the same: an editor may still be writing.
    """
    try:
        seen = last = look()
        show()
        click.echo("Watching for changes; Ctrl-C ends it.")
        while True:
            sleep(PAUSE)
            now = look()
            if now == last and now != seen:
                seen = now
                click.echo(f"\n{clock().astimezone():%H:%M:%S} The files have changed.")
                show()
            last = now
    except KeyboardInterrupt:
        click.echo("\nNo longer watching.")
