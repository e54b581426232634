"""Walks kept as they go on: each in a file of its own, from which it can be taken up after whatever happened.

A kept walk is a saved case like any other, written anew and whole after each step. A lock beside it says
that the walk is still going on; the system lets go of it when the process ends, even by kill -9.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from faultree.base.clock import Clock
from faultree.base.errors import CaseError
from faultree.library import store
from faultree.terminal import files
from faultree.terminal.locks import Lock, claim

KEY = "kept"
"""The key that holds, beside the case, when it was kept and for which library."""

DISCARDED = "discarded"
"""The folder, beside the kept walks, of those that were discarded or have ended: nothing is offered from there."""

ROOM = 30
"""So many discarded walks are left there; older ones go."""

TRIES = 100
"""So many names are tried for a new walk."""


@dataclass
class Keeper:
    """Keeps one walk in a folder. `library` is the folder of its tree files.

    What cannot be written is said once and never stops the walk; writing is tried again after every step.
    """

    folder: Path
    library: str
    clock: Clock
    path: Path | None = None
    lock: Lock | None = field(default=None, repr=False)
    complained: bool = False

    def keep(self, data: Mapping[str, object], file: Path | None) -> str:
        """Write the walk; what to tell where that fails, else nothing. `file` is where it was saved last."""
        try:
            if self.path is None:
                self._begin(data)
            assert self.path is not None
            store.replace(self.path, files.dump({**data, KEY: self._about(file)}, self.path.name), mode=0o600)
        except OSError as error:
            if self.complained:
                return ""
            self.complained = True
            return (
                f"This walk cannot be kept as it goes on ({self.folder}: {error.strerror or error}). It goes on all "
                "the same; type save and a file name to write it where you choose."
            )
        self.complained = False
        return ""

    def drop(self) -> None:
        """Take the kept walk away: all of it is saved elsewhere, or there is nothing to keep."""
        if self.path is not None:
            _remove(self.path)
        if self.lock is not None:
            _release(self.lock)
        self.path = self.lock = None

    def leave(self) -> None:
        """Let go of the walk, which stays kept for another time."""
        if self.lock is not None:
            _release(self.lock)
        self.lock = None

    def put_aside(self) -> Path | None:
        """Let go of a walk that has ended, where it is not offered again; its file, None where it stays offered."""
        path = self.path
        self.leave()
        if path is None or self.complained:
            return None
        try:
            return _aside(path)
        except OSError:
            return None  # it is offered once more, which loses nothing

    def adopt(self, kept: Kept) -> None:
        """Go on in the file of a walk that is taken up."""
        self.path, self.lock = kept.path, kept.lock

    def _about(self, file: Path | None) -> dict[str, object]:
        saved = {"saved": str(file.resolve())} if file is not None else {}
        return {"at": self.clock().isoformat(timespec="seconds"), "library": self.library, **saved}

    def _begin(self, data: Mapping[str, object]) -> None:
        """Find a name that no other walk has, and lock it."""
        self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        symptoms = data.get("symptoms")
        first = symptoms[0] if isinstance(symptoms, list) and symptoms else "walk"
        word = re.sub(r"[^\w-]+", "-", str(first))[:60]
        stem = f"{self.clock():%Y%m%d-%H%M%S}-{word}"
        for count in range(1, TRIES):
            path = self.folder / f"{stem}{f'-{count}' if count > 1 else ''}.yaml"
            lock = claim(_lock_of(path))
            if lock is not None and not path.exists():
                self.path, self.lock = path, lock
                return
            if lock is not None:
                _release(lock)
        raise OSError(17, "no free name is left for a kept walk")


@dataclass(frozen=True)
class Kept:
    """A walk that was kept, with its lock held by us, so that nobody else takes it up."""

    path: Path
    data: Mapping[str, object]
    lock: Lock = field(repr=False, compare=False)

    @property
    def symptoms(self) -> tuple[str, ...]:
        """The reports (full ids) as they were."""
        found = self.data.get("symptoms")
        return tuple(map(str, found)) if isinstance(found, list) else ()

    @property
    def titles(self) -> tuple[str, ...]:
        """The reports in words."""
        reports = _table(self.data, "tree").get("reports")
        return tuple(map(str, reports.values())) if isinstance(reports, Mapping) else self.symptoms

    @property
    def steps(self) -> int:
        """How many steps it has."""
        found = self.data.get("steps")
        return len(found) if isinstance(found, list) else 0

    @property
    def library(self) -> str:
        """The folder of its tree files."""
        return str(_table(self.data, KEY).get("library", ""))

    @property
    def saved(self) -> Path | None:
        """Where it was saved last by its user."""
        name = _table(self.data, KEY).get("saved")
        return Path(name) if isinstance(name, str) else None

    @property
    def at(self) -> datetime | None:
        """When its last step was kept."""
        try:
            found = datetime.fromisoformat(str(_table(self.data, KEY).get("at")))
        except ValueError:
            return None
        return found if found.tzinfo else None

    def leave(self) -> None:
        """Leave it where it is, for another time."""
        _release(self.lock)

    def discard(self) -> None:
        """Put it aside, where it is not offered again. Raises OSError."""
        _aside(self.path)
        _release(self.lock)


def kept_in(folder: Path, library: str) -> Iterator[Kept]:
    """The walks of this library that are kept in a folder and that nobody has open, newest first.

    What cannot be read is passed over: it stays where it is.
    """
    try:
        paths = sorted(folder.glob("*.yaml"), reverse=True)
    except OSError:
        return
    for path in paths:
        found = _open(path)
        if found is None:
            continue
        if found.library == library:
            yield found
        else:
            found.leave()


def _open(path: Path) -> Kept | None:
    try:
        lock = claim(_lock_of(path))
    except OSError:
        return None
    if lock is None:
        return None
    try:
        return Kept(path, files.load(path), lock)
    except CaseError:
        _release(lock)
        return None


def _aside(path: Path) -> Path:
    """Move a kept walk to those that are not offered, of which the oldest go; where it lies then. Raises OSError."""
    aside = path.parent / DISCARDED
    aside.mkdir(mode=0o700, exist_ok=True)
    moved = path.replace(aside / path.name)
    for old in sorted(aside.glob("*.yaml"))[:-ROOM]:
        _remove(old)
    return moved


def _lock_of(path: Path) -> Path:
    return path.with_suffix(".lock")


def _release(lock: Lock) -> None:
    try:
        lock.release()
    except OSError:
        return  # the folder cannot be written any more; the lock ends with the process


def _remove(path: Path) -> None:
    try:
        path.unlink(missing_ok=True)
    except OSError:
        return  # it is offered once more, which loses nothing


def _table(data: Mapping[str, object], key: str) -> Mapping[str, object]:
    found = data.get(key)
    return found if isinstance(found, Mapping) else {}
