"""A scripted debrief at a process of its own, which can be killed at any moment, and what must then hold."""

from __future__ import annotations

import os
import re
import signal
import subprocess
from collections.abc import Mapping
from pathlib import Path
from time import monotonic, sleep

from faultree.journal import book
from faultree.journal.records import Record
from faultree.journal.stage import stage_of, walked
from tests.house.source import ROOT
from tests.journal.cases import opened
from tests.terminal.ptys import PROGRAM

LINES = ("HM-VLA", "HM 412", "2025-05-04", "landing", "lamp out on final", "no landing signal", "", "1", "0",
         "ok", "silence", "note seal worn")  # fmt: skip
"""A whole debrief of the small library: flight, two squawks, what they mean, the crew's one question, a note."""

CHECK = ("signal/click", "silence")

ASKED = re.compile(r"^(?:Aircraft|Flight number|Day|Phase|Squawk|Which one|Type ok|Your answer)\b.* > ", re.MULTILINE)
"""A question with the line typed behind it."""


def environ(folder: Path) -> Mapping[str, str]:
    """The variables of such a process; its journal is in the folder."""
    kept = {key: os.environ[key] for key in ("PATH", "HOME") if key in os.environ}
    journal = str(folder / "journal.sqlite")
    return {**kept, "LANG": "C.UTF-8", "PYTHONPATH": str(ROOT), "NO_COLOR": "1", "FAULTREE_JOURNAL": journal}


def _begun(folder: Path) -> tuple[subprocess.Popen[bytes], bytes]:
    """A debrief whose first question is on view and whose lines are all typed ahead; and what it has shown."""
    process = subprocess.Popen(
        [*PROGRAM, "debrief", "--library", str(folder / "trees")], cwd=folder, env=dict(environ(folder)),
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
    )  # fmt: skip
    assert process.stdin is not None
    assert process.stdout is not None
    shown = b""
    while b"leaves a question out" not in shown:
        more = process.stdout.read1(4096)  # type: ignore[attr-defined]  # a buffered reader has it
        assert more, shown.decode()
        shown += more
    process.stdin.write("".join(f"{line}\n" for line in LINES).encode())
    process.stdin.close()
    return process, shown


def length(folder: Path) -> float:
    """Seconds from the first question of a debrief to its end, where nobody kills it."""
    process, _ = _begun(folder)
    start = monotonic()
    assert process.stdout is not None
    with process.stdout:
        process.stdout.read()
    process.wait()
    return monotonic() - start


def killed(folder: Path, delay: float) -> str:
    """Kill a debrief so many seconds after its first question; what it had shown by then."""
    process, shown = _begun(folder)
    sleep(delay)
    process.send_signal(signal.SIGKILL)
    assert process.stdout is not None
    with process.stdout:
        shown += process.stdout.read()
    process.wait()
    return shown.decode("utf-8", "replace")


def answered(shown: str) -> int:
    """How many questions a debrief had gone on from: it shows a line behind its question before it is kept."""
    return max(len(ASKED.findall(shown)) - 1, 0)


def problems(folder: Path, shown: str) -> list[str]:
    """What is wrong after a kill: an answer lost that the screen had gone on from, a damaged file, a wrong next step.

    The screen asks the next question only when the answer before it is in the journal, so every answer before the
    last question on view must be there.
    """
    journal = folder / "journal.sqlite"
    if not journal.exists():
        return ["no journal"]
    store = opened(journal)
    try:
        found = list(store.problems())
        heads = book.heads(store)
        done = answered(shown)
        if not heads:
            return found + (["no case, though answers were shown"] if done else [])
        return found + _lost(book.read(store, heads[0].id), done)
    finally:
        store.close()


def _lost(record: Record, done: int) -> list[str]:
    """What of the first `done` lines the record does not hold, and whether it goes on at the right question."""
    flight = record.head.flight
    steps = (walked(record) or {}).get("steps", [])
    notes = [one.data["note"] for one in record.entries if "note" in one.data]
    words = [one.words for one in record.squawks]
    matched = [one.data.get("symptom") for one in record.entries if one.kind == "matched"]
    answers = [(one["check"], one["answer"]) for one in steps]
    held = [flight.aircraft, flight.flight, flight.day, flight.phase, *words[:2]]
    expected = [
        (1, held[:1] == ["HM-VLA"]), (2, flight.flight == "HM 412"), (3, flight.day == "2025-05-04"),
        (4, flight.phase == "landing"), (5, words[:1] == [LINES[4]]), (6, words[:2] == list(LINES[4:6])),
        (8, matched[:1] == ["signal/dark"]), (9, matched[:2] == ["signal/dark", None]), (11, answers == [CHECK]),
        (12, notes == ["seal worn"]),
    ]  # fmt: skip
    lost = [f"line {count} is lost" for count, there in expected if done >= count and not there]
    stage = stage_of(record)
    right = "words" if not words else "match" if len(matched) < len(words) else "walk"
    return lost + ([] if stage == right else [f"goes on with {stage} in place of {right}"])


def gone_on(folder: Path) -> list[str]:
    """Take the case up where it was left and finish it; what is wrong then."""
    store = opened(folder / "journal.sqlite")
    heads = book.heads(store)
    if not heads:
        store.close()
        return []
    record = book.read(store, heads[0].id)
    store.close()
    stage = stage_of(record)
    matched = sum(one.kind == "matched" for one in record.entries)
    flight = record.head.flight
    known = [flight.aircraft, flight.flight, flight.day, flight.phase]
    unasked = [line for line, there in zip(LINES[:4], known, strict=True) if not there]
    lines = [*unasked, *LINES[4:7]] if stage == "words" else []
    left = (2 if stage == "words" else len(record.squawks)) - matched
    lines += ["1" if number == 0 else "0" for number in range(matched, matched + left)]
    lines += ["ok", *(["silence"] if (walked(record) or {}).get("steps", []) == [] else [])]
    done = subprocess.run(
        [*PROGRAM, "debrief", "continue", str(record.head.id), "--by", "crew", "--library", str(folder / "trees")],
        cwd=folder, env=dict(environ(folder)), input="".join(f"{line}\n" for line in lines), text=True,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False,
    )  # fmt: skip
    store = opened(folder / "journal.sqlite")
    record = book.read(store, record.head.id)
    steps = (walked(record) or {}).get("steps", [])
    store.close()
    wrong = [] if done.returncode == 0 else [f"exit code {done.returncode}: {done.stdout[-500:]}"]
    if [(one["check"], one["answer"]) for one in steps] != [CHECK]:
        wrong.append(f"the answers are {steps} after all")
    return wrong
