"""Kill -9 at many random moments of a scripted debrief, and two processes that write at once.

    python -m tests.benchmarks.study_debrief_kills [COUNT] [SECONDS]

prints how many kills lost an answer, damaged the journal or went on at a wrong question (none must), and
how many entries two writers made in so many seconds, how many of them were lost, and how long the longest took.
"""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from faultree.journal import book
from faultree.journal.records import Flight
from tests.journal.cases import opened
from tests.terminal.debriefs import answered, gone_on, killed, length, problems
from tests.walk.small import SIGNAL

COUNT, SECONDS = 200, 60

WRITER = """
import sys, time
from datetime import UTC, datetime
from pathlib import Path
from faultree.journal import book
from faultree.journal.place import where
from faultree.journal.store import open_store
store = open_store(where(sys.argv[1], {}, sys.platform, Path()), lambda: datetime.now(UTC))
end, number, longest = time.monotonic() + float(sys.argv[3]), 0, 0.0
while time.monotonic() < end:
    number += 1
    began = time.monotonic()
    book.add(store, 1, "note", {"text": f"{sys.argv[2]} {number}"})
    longest = max(longest, time.monotonic() - began)
print(number, longest)
"""


def kills(count: int) -> tuple[Counter[str], Counter[int], float]:
    """Kill so many debriefs, each at a random moment of its course and in a journal of its own.

    Gives what was wrong, how many answers had been given at the kills, and the seconds that a debrief takes.
    """
    random, found, given = Random("study of kills"), Counter[str](), Counter[int]()
    with _folder() as folder:
        span = length(folder)
    for _ in range(count):
        with _folder() as folder:
            shown = killed(folder, random.random() ** 3 * span)  # most answers are kept early, the last step is slow
            wrong = problems(folder, shown) or gone_on(folder)
            found[wrong[0] if wrong else "all kept, and went on at the right question"] += 1
            given[answered(shown)] += 1
    return found, given, span


@contextmanager
def _folder() -> Iterator[Path]:
    """An empty folder with the small library."""
    with TemporaryDirectory() as name:
        (Path(name) / "trees").mkdir()
        (Path(name) / "trees" / "signal.yaml").write_text(SIGNAL, encoding="utf-8")
        yield Path(name)


def two_writers(folder: Path, seconds: float) -> tuple[int, int, float]:
    """Two processes add to one case; entries said to be made, entries missing or out of order, the longest wait."""
    journal = folder / "journal.sqlite"
    store = opened(journal)
    book.open_case(store, Flight(), [], "digest")
    writers = [
        subprocess.Popen(
            [sys.executable, "-c", WRITER, str(journal), name, str(seconds)], stdout=subprocess.PIPE, text=True
        )
        for name in "ab"
    ]
    said = [one.communicate()[0].split() for one in writers]
    entries = book.read(store, 1).entries
    kept = {str(one.data.get("text")) for one in entries}
    wanted = {f"{name} {number + 1}" for name, words in zip("ab", said, strict=True) for number in range(int(words[0]))}
    gaps = sum(one.number != place for place, one in enumerate(entries, 1))
    wrong = len(wanted - kept) + gaps + len(store.problems())
    store.close()
    return len(wanted), wrong, max(float(words[1]) for words in said)


def main() -> None:
    """Print the figures of both."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else COUNT
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else SECONDS
    found, given, span = kills(count)
    print(f"{count} kills within the {span:.2f} s of a debrief:")
    for words, times in sorted(found.items()):
        print(f"  {words}: {times}")
    print(
        "  answers given at the kill: " + ", ".join(f"{done}: {times} kills" for done, times in sorted(given.items()))
    )
    with TemporaryDirectory() as name:
        made, wrong, longest = two_writers(Path(name), seconds)
    print(
        f"two writers for {seconds:.0f} s: {made} entries, {wrong} lost or out of order, longest wait {longest:.2f} s"
    )


if __name__ == "__main__":
    main()
