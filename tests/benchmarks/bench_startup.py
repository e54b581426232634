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
from collections.abc import Mapping
from pathlib import Path
from time import perf_counter

ROOT = Path(__file__).resolve().parents[2]
COMMAND = [sys.executable, "-c", "from faultree.cli.main import main; main()"]
SYMPTOM = "spoilers/stay-down"
VERSION_REACH = 3.0
RANK_REACH = 0.6
COMPLETE_REACH = 0.3
ASKED = {"_FAULTREE_COMPLETE": "bash_complete", "COMP_WORDS": "faultree rank stay-down --answer wh", "COMP_CWORD": "="}
"""What bash sets when its user presses Tab behind a check."""


def _seconds(command: list[str], kept: str, more: Mapping[str, str]) -> float:
    variables = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"} | dict(more)
    variables["PYTHONPYCACHEPREFIX"] = kept
    begin = perf_counter()
    subprocess.run(command, cwd=ROOT, env=variables, stdout=subprocess.DEVNULL, check=True)
    return perf_counter() - begin


def measure(rounds: int = 15) -> list[float]:
    """Median seconds of a bare start, `--version`, `rank` and a completion, in turn so that noise hits all alike."""
    bare = [sys.executable, "-c", "pass"]
    runs: list[tuple[list[str], Mapping[str, str]]]
    runs = [(bare, {}), ([*COMMAND, "--version"], {}), ([*COMMAND, "rank", SYMPTOM], {}), (COMMAND, ASKED)]
    with tempfile.TemporaryDirectory() as kept:
        for command, more in runs:
            _seconds(command, kept, more)  # the first run compiles modules and fills the file cache
        times = [[_seconds(command, kept, more) for command, more in runs] for _ in range(rounds)]
    return [statistics.median(column) for column in zip(*times, strict=True)]


def main() -> None:
    """Print the figures beside what they are meant to reach."""
    bare, version, rank, complete = measure()
    print(f"python -c pass       {1000 * bare:7.1f} ms")
    print(f"faultree --version   {1000 * version:7.1f} ms  {version / bare:.2f} x bare, to reach {VERSION_REACH}")
    print(f"faultree rank        {1000 * rank:7.1f} ms  {rank / bare:.0f} x bare, to reach {1000 * RANK_REACH:.0f} ms")
    print(f"completion of a check{1000 * complete:7.1f} ms  to reach {1000 * COMPLETE_REACH:.0f} ms")
    reached = version / bare <= VERSION_REACH and rank <= RANK_REACH and complete <= COMPLETE_REACH
    print("reached" if reached else "NOT reached")


if __name__ == "__main__":
    main()
