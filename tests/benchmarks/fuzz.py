"""Fuzzes the reader, the case loader and the walk: `-m ... TARGET COUNT [ENGINE] [SEED]`.

TARGET is `reader`, `case` or `walk`. ENGINE is `guided`, which follows branch coverage and needs
`pip install atheris` (wheels for Linux only, so the tests do without), or `drawn`, where Hypothesis puts
inputs together from pieces that mean something to the target. An input that raises, or takes longer than
ten seconds, is printed, and the run ends with an exit code that is not 0; the last line of a run gives the
number of inputs.
"""

from __future__ import annotations

import importlib
import signal
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from time import perf_counter
from typing import Any

from hypothesis import HealthCheck, given, seed, settings
from hypothesis import strategies as st

LIMIT = 10
"""Seconds after which an input counts as a hang."""

BATCH = 20_000
"""Hypothesis remembers all inputs of a run, so a long run is made of shorter ones, each with a seed of its own."""

LONGEST = {"reader": 6_000, "case": 3_000, "walk": 160}
"""Bytes of the longest input that coverage guides to."""

PIECES = {
    "reader": (
        "[", "]", "{", "}", "- ", ": ", ":", "\n", "\n  ", "\n    ", "\t", "'", '"', ",", "#", "|\n", ">-\n", "? ",
        "%", "&a ", "*a", "!t ", "<<: ", "---\n", "\n...\n", "~", "yes", "1e999", ".nan", "-1", "9" * 400,
        r'"\ud800"', "\x85", "\u2028", "\ufeff", "\x00", "é", "otherwise", "at_least: ", "count: ", "of: ",
        "extends: ", "full/bulb", "\n%%%\n", "causes:\n", "signals:\n", "checks:\n", "x-quiet:\n", "any: ", "not: ",
        "false_yes: ", "probability: ", "item: ",
    ),
    "case": (
        "case: 1\n", "symptoms:\n", "- signal/dark\n", "steps:\n", "- check: voltage\n", "  answer: yes\n",
        "  answer: ", "- repair: lamp\n", "  gone: true\n", "walk:\n", "  notes:\n", "  - after: 1\n    text: x\n",
        "  added:\n", "  - after: 0\n    report: signal/button-lamp\n", "  by:\n", "  - line\n",
        "  withdrawn:\n", "  unexplained:\n", "    check: click\n", "    answer: click\n", "[", "]", "{", "}", '"',
        "'", ",", ":", "\n", " ", "- ", "null", "true", "1e9", "signal/", "&a ", "*a", "library: ", "\x00", "é",
        "9" * 400, '{"case": 1}',
    ),
    "walk": (
        "ok", "1", "2", "3", "9", "why ", "A", "B", "lamp", "relay", "voltage", "yes", "no", "undo", "all", "back",
        "also ", "by ", "crew", "anyone",
        "can't tell", "check ", "replace ", "carry on", "note ", "save ", "overwrite ", "finish", "show", "help",
        "quit", "suspects", "ctrl-c", "~", "/", "..", "~nobody/", "x" * 300, "\x00", "é", "²", "٣", "’", "[/b]",
        "\x1b[2J", ",", " and ", "=", "?", "\t", "\n", "\n", "\n", " ", " ", "silence", "gone", "still there", "dark",
    ),
}  # fmt: skip
"""What inputs are put together from, beside bytes of any kind."""


def main(arguments: list[str]) -> int:
    """Run one engine on one target."""
    name, count = arguments[0], int(arguments[1])
    engine = arguments[2] if len(arguments) > 2 else "guided"
    first = int(arguments[3]) if len(arguments) > 3 else 1
    return {"guided": _guided, "drawn": _drawn}[engine](name, count, first)


# ---- put together by Hypothesis


def inputs(name: str) -> st.SearchStrategy[bytes]:
    """Inputs for a target: pieces and bytes in a row, or a good input with some of it cut out and others put in."""
    from tests.benchmarks.fuzz_targets import seeds

    pieces = st.sampled_from([one.encode() for one in PIECES[name]]) | st.binary(max_size=4)
    rows = st.lists(pieces, max_size=40).map(b"".join)
    edits = st.lists(st.tuples(st.integers(0, LONGEST[name]), st.integers(0, 60), pieces), min_size=1, max_size=6)
    edited = st.builds(_edited, st.sampled_from(seeds(name)), edits)
    return st.builds(bytes.__add__, st.binary(min_size=1, max_size=1), rows) | rows | edited


def _edited(good: bytes, edits: list[tuple[int, int, bytes]]) -> bytes:
    for place, cut, piece in edits:
        at = place % (len(good) + 1)
        good = good[:at] + piece + good[at + cut :]
    return good


def _drawn(name: str, count: int, first: int) -> int:
    from tests.benchmarks.fuzz_targets import TARGETS

    target = TARGETS[name]
    done = 0

    def once(data: bytes) -> None:
        nonlocal done
        done += 1
        guarded(target, data)

    begin = perf_counter()
    for number in range(first, first + -(-count // BATCH)):
        drawn = given(inputs(name))(once)
        quick = settings(
            max_examples=min(BATCH, count), database=None, deadline=None, suppress_health_check=list(HealthCheck)
        )
        seed(number)(quick(drawn))()
        print(f"{name}, drawn: {done:,} inputs, {perf_counter() - begin:.0f} s, seeds {first} to {number}", flush=True)
    return 0


def guarded(target: Callable[[bytes], None], data: bytes) -> None:
    """Run the target on one input; one that hangs raises TimeoutError where it stands."""

    def late(*_: object) -> None:
        raise TimeoutError(f"an input takes longer than {LIMIT} s: {data!r}")

    before = signal.signal(signal.SIGALRM, late)
    signal.alarm(LIMIT)
    try:
        target(data)
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


# ---- guided by coverage


def _guided(name: str, count: int, first: int) -> int:
    """Run atheris; it leaves the process itself, after its own statistics."""
    atheris: Any = importlib.import_module("atheris")

    with atheris.instrument_imports(include=["faultree"]):
        from tests.benchmarks.fuzz_targets import TARGETS, seeds
    folder = Path(tempfile.mkdtemp(prefix="faultree-fuzz-corpus-"))
    for number, good in enumerate(seeds(name)):
        (folder / str(number)).write_bytes(good)
    words = folder.with_suffix(".dict")
    lines = ("".join(f"\\x{byte:02x}" for byte in one.encode("utf-8")) for one in PIECES[name])
    words.write_text("".join(f'"{line}"\n' for line in lines), encoding="ascii")
    wished = {"runs": count, "seed": first, "max_len": LONGEST[name], "timeout": LIMIT, "rss_limit_mb": 3000}
    options = [f"-{key}={value}" for key, value in {**wished, "dict": words, "print_final_stats": 1}.items()]
    atheris.Setup([sys.argv[0], *options, str(folder)], TARGETS[name])
    atheris.Fuzz()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
