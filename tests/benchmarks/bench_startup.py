"""How long the command takes to start, beside a bare Python: `python -m tests.benchmarks.bench_startup`.

Modules are compiled once, before the clock runs, as they are on a user's machine; an environment that
forbids Python to keep compiled modules is overruled, in a folder of this run's own.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path
from time import perf_counter

ROOT = Path(__file__).resolve().parents[2]
COMMAND = [sys.executable, "-c", "from faultree.cli.main import main; main()"]
SYMPTOM = "spoilers/stay-down"
VERSION_REACH = 3.0
RANK_REACH = 0.6


def _seconds(command: list[str], kept: str) -> float:
    variables = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    variables["PYTHONPYCACHEPREFIX"] = kept
    begin = perf_counter()
    subprocess.run(command, cwd=ROOT, env=variables, stdout=subprocess.DEVNULL, check=True)
    return perf_counter() - begin


def measure(rounds: int = 15) -> tuple[float, float, float]:
    """Median seconds of a bare start, of `--version` and of `rank`, taken in turn so that noise hits all alike."""
    commands = ([sys.executable, "-c", "pass"], [*COMMAND, "--version"], [*COMMAND, "rank", SYMPTOM])
    with tempfile.TemporaryDirectory() as kept:
        for command in commands:
            _seconds(command, kept)  # the first run compiles modules and fills the file cache
        times = [[_seconds(command, kept) for command in commands] for _ in range(rounds)]
    bare, version, rank = (statistics.median(column) for column in zip(*times, strict=True))
    return bare, version, rank


def main() -> None:
    """Print the figures beside what they are meant to reach."""
    bare, version, rank = measure()
    print(f"python -c pass       {1000 * bare:7.1f} ms")
    print(f"faultree --version   {1000 * version:7.1f} ms  {version / bare:.2f} x bare, to reach {VERSION_REACH}")
    print(f"faultree rank        {1000 * rank:7.1f} ms  {rank / bare:.0f} x bare, to reach {1000 * RANK_REACH:.0f} ms")
    print("reached" if version / bare <= VERSION_REACH and rank <= RANK_REACH else "NOT reached")


if __name__ == "__main__":
    main()
