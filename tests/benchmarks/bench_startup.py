"""How long the command takes to start, beside a bare Python: `python -m tests.benchmarks.bench_startup`."""

from __future__ import annotations

import statistics
import subprocess
import sys
from pathlib import Path
from time import perf_counter

ROOT = Path(__file__).resolve().parents[2]
COMMAND = [sys.executable, "-c", "from faultree.cli.main import main; main()"]
SYMPTOM = "spoilers/stay-down"
VERSION_REACH = 3.0
RANK_REACH = 0.6


def _seconds(command: list[str]) -> float:
    begin = perf_counter()
    subprocess.run(command, cwd=ROOT, stdout=subprocess.DEVNULL, check=True)
    return perf_counter() - begin


def measure(rounds: int = 15) -> tuple[float, float, float]:
    """Median seconds of a bare start, of `--version` and of `rank`, taken in turn so that noise hits all alike."""
    commands = ([sys.executable, "-c", "pass"], [*COMMAND, "--version"], [*COMMAND, "rank", SYMPTOM])
    for command in commands:
        _seconds(command)  # the first run compiles modules and fills the file cache
    times = [[_seconds(command) for command in commands] for _ in range(rounds)]
    bare, version, rank = (statistics.median(column) for column in zip(*times, strict=True))
    return bare, version, rank


def main() -> None:
    """Print the figures beside what they are meant to reach."""
    bare, version, rank = measure()
    print(f"python -c pass       {1000 * bare:7.1f} ms")
    print(f"faultree --version   {1000 * version:7.1f} ms  {version / bare:.2f} x bare, to reach {VERSION_REACH}")
    print(f"faultree rank        {1000 * rank:7.1f} ms  to reach {1000 * RANK_REACH:.0f} ms")
    reached = version / bare <= VERSION_REACH and rank <= RANK_REACH
    print("reached" if reached else "NOT reached")


if __name__ == "__main__":
    main()
