"""What is fuzzed: bytes go into the reader, the case loader or a walk, and every promise is asserted.

Each target takes any bytes and returns; whatever it raises is a defect. Nothing here writes outside a
folder of its own.
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
import zlib
from collections.abc import Callable, Mapping
from contextlib import chdir
from functools import cache
from pathlib import Path
from unittest import mock

from rich.console import RenderableType

from faultree.base.errors import CaseError
from faultree.library import store
from faultree.library.load import read_texts
from faultree.library.model import Library
from faultree.library.values import control
from faultree.library.writer import write
from faultree.terminal import files
from faultree.terminal.look import Look
from faultree.terminal.pump import Screen, Session
from faultree.walk import events as ev
from faultree.walk import saved
from faultree.walk.machine import start, step
from faultree.walk.state import Refused, Walk
from faultree.walk.view import prompt
from tests.terminal.drawn import Script
from tests.walk.small import DARK, SIGNAL, asked, small, walked

FULL = (Path(__file__).parents[1] / "library" / "full.yaml").read_text(encoding="utf-8")

PART = b"\n%%%\n"
"""Parts one file of a library from the next."""

LINES = 6
"""So many lines are typed in one walk; it begins deep in a case, so few lead everywhere."""

COUNTED = 20_000
"""After so many typed lines their number is printed."""

DRAWN = 64
"""One walk in so many is laid out on a page; the others only build what would be drawn."""


# ---- the reader


def reader(data: bytes) -> None:
    """Tree files of any content: a library or problems that fit on a line, and a layout that changes nothing."""
    parts = data.split(PART, 2)
    texts: dict[str, str | bytes] = {f"{name}.yaml": part for name, part in zip("abc", parts, strict=False)}
    library, problems = read_texts(texts)
    assert (library is None) == bool(problems), "neither a library nor a problem, or both"
    for problem in problems:
        assert control(str(problem)) is None, f"a problem disturbs the screen: {problem!r}"
        assert "\n" not in str(problem)
        assert problem.message
        assert problem.hint
    for name, content in texts.items():
        tidied = write(content, name)
        assert tidied.text is not None or tidied.problems
        if tidied.text is not None:
            assert write(tidied.text, name).text == tidied.text, "the layout is not settled"


# ---- the case loader


def case(data: bytes) -> None:
    """A case file of any content: refused in words, or a walk that can be shown, saved and taken up again."""
    path = _folder() / ("case.json" if data[:1] == b"{" else "case.yaml")
    path.write_bytes(data)
    try:
        found = files.load(path)
    except CaseError:
        return
    taken = _taken_up(small(), found)
    if taken is not None:
        prompt(taken)
        prompt(step(taken, ev.Acknowledge()).walk)
        path.write_text(files.dump(saved.pack(taken), path.name), encoding="utf-8")
        again = _taken_up(small(), files.load(path))
        assert again is not None, "what was saved cannot be taken up"
        assert saved.pack(again) == saved.pack(taken), "saving changed the case"


def _taken_up(library: Library, found: Mapping[str, object]) -> Walk | None:
    turn = step(start(library), ev.Resume(found))
    return None if any(isinstance(said, Refused) for said in turn.said) else turn.walk


# ---- what is typed in a walk


class _Blind(Screen):
    """A screen that is looked at now and then: to lay a page out takes longer than all the rest."""

    looked = False

    def show(self, *parts: RenderableType) -> None:
        if self.looked:
            super().show(*parts)


class _Counted(Script):
    """Lines as if typed, that are counted when they are read."""

    read_so_far = 0

    def read(self, ask: str) -> str | None:
        line = super().read(ask)
        if line is not None:
            _Counted.read_so_far += 1
            if _Counted.read_so_far % COUNTED == 0:
                print(f"{_Counted.read_so_far:,} lines typed", file=sys.stderr, flush=True)
        return line


@cache
def _states() -> tuple[Walk, ...]:
    """Walks in every phase: before the report, at the notice, at cautions, checks, lists, contradictions, the end."""
    opened = step(start(small()), ev.Begin((DARK,))).walk
    return (
        start(small()),
        opened,
        walked(),
        walked(*asked("click", "silence")),
        walked(*asked("voltage", "no")),
        walked(ev.TakeUp("voltage"), ev.Acknowledge()),
        walked(ev.Replace("lamp"), ev.Acknowledge()),
        walked(ev.ShowAll()),
        walked(ev.Finish()),
        walked(*asked("voltage", "yes"), ev.Replace("lamp"), ev.Acknowledge(), ev.Retest(gone=True)),
        walked(*asked("voltage", "yes"), ev.Replace("lamp"), ev.Acknowledge(), ev.Retest(gone=False)),
        walked(*asked("supply-seen", "no"), by=("line",)),
    )


def walk(data: bytes) -> None:
    """Lines typed in a walk, whatever they are, from any of its phases: never an error, and always a prompt."""
    states = _states()
    begun = states[(data[0] if data else 0) % len(states)]
    typed = data[1:].decode("utf-8", "surrogateescape").split("\n")[:LINES]
    with (_folder() / "screen").open("w", encoding="utf-8", errors="replace") as stream:
        screen = _Blind(stream, Look(plain=bool(len(data) % 2), width=(40, 80, 120)[len(data) % 3]))
        screen.looked = zlib.crc32(data) % DRAWN == 0
        session = Session(begun, screen, _Counted(typed, by_hand=bool(len(data) % 5)))
        with mock.patch.object(store, "replace", _written), chdir(_folder()):
            prompt(session.run())


def _written(path: Path, text: str) -> None:
    """Stands in for writing a file: no name that is typed may reach a file of this machine."""
    os.fspath(path)
    assert text


# ---- all of them


TARGETS: Mapping[str, Callable[[bytes], None]] = {"reader": reader, "case": case, "walk": walk}


@cache
def _folder() -> Path:
    """A folder of this process alone, in memory where the machine has that."""
    fast = Path("/dev/shm")
    return Path(tempfile.mkdtemp(prefix="faultree-fuzz-", dir=fast if fast.is_dir() else None))


def seeds(name: str) -> list[bytes]:
    """Good inputs to begin from."""
    if name == "reader":
        other = "faultree: 1\ntitle: Other\ncauses:\n  worn: {title: Worn, likelihood: remote}\n"
        return [FULL.encode(), SIGNAL.encode(), (other + PART.decode() + other.replace("Other", "B")).encode()]
    if name == "case":
        cases = [saved.pack(one) for one in _states() if one.case is not None]
        return [files.dump(one, "a.yaml").encode() for one in cases] + [json.dumps(one).encode() for one in cases]
    lines = b"ok\n1\nno\nundo\nwhy A\nall\nback\ncan't tell\nnote x\nreplace lamp\nok\nyes\ncarry on\nfinish\nsave c\nq"
    return [bytes([state]) + lines for state in range(len(_states()))]
