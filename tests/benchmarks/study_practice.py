"""Practice on the demonstration library: `python -m tests.benchmarks.study_practice [PART] [COUNT] [SYMPTOM...]`.

PART `fidelity`: 5,000 seeded exercises a symptom; hidden faults against the posterior, answers against error rates.
PART `minutes`: COUNT (40) exercises a symptom done by the best strategy; its minutes against those expected.
PART `marks`: COUNT (6) exercises a symptom done by trainees with one habit each (`tests.practice.trainees`), and
whether they are ranked as an instructor would rank them (`ranked`). Without a PART all are done.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from statistics import mean, stdev
from typing import NamedTuple

from faultree.library.load import load
from faultree.library.model import Library
from faultree.practice.judge import outlook
from faultree.practice.mark import mark
from faultree.practice.reference import reference
from faultree.practice.scenario import scenario
from faultree.practice.schedule import GOOD
from faultree.strategy.case import Case
from tests.benchmarks.machine import machine
from tests.house.source import ROOT
from tests.practice.fidelity import answers_agree, drawn, expected, faults_agree
from tests.practice.trainees import HABITS, run

DRAWS = 5000
LEVEL = 2
COUNT = 6
RUNS = 40


class Marks(NamedTuple):
    """What the habits reached at one symptom.

    `skipper` does what the best does without reading a caution; `capped` whether there was one to read. `swap` is the
    expected time of replacing the likeliest unit at once, as a share of the best's; `minutes` are those that the habits
    took on average.
    """

    means: dict[str, float]
    minutes: dict[str, float]
    skipper: float
    capped: bool
    swap: float


def marks(library: Library, symptom: str, count: int) -> Marks:
    """The habits on so many exercises of a symptom."""
    made = [scenario(library, symptom, LEVEL, seed) for seed in range(count)]
    runs = {name: [run(library, one, habit, one.seed) for one in made] for name, habit in HABITS.items()}
    careless = [run(library, one, HABITS["best"], reads=False) for one in made]
    case = Case.open(library, [symptom])
    start = outlook(case, made[0], looked=True)
    return Marks(
        means={name: mean(mark(one).mark for one in some) for name, some in runs.items()},
        minutes={name: mean(one.minutes for one in some) for name, some in runs.items()},
        skipper=mean(mark(one).mark for one in careless),
        capped=any(step.skipped for one in careless for step in one.steps),
        swap=start.values.get(("replace", case.units()[0].unit), float("inf")) / start.least,
    )


def ranked(found: Marks) -> list[str]:
    """What an instructor would object to; empty where the habits are ranked as one would rank them.

    Safety first: who does the best without reading the cautions on the way is behind who reads them, and below what
    counts as good practice. Then the best first, and the others by the time that their habit costs: who asks what tells
    most for its time is before who asks anything and before who replaces the likeliest part, unless it is slower here.
    """
    means, objections = found.means, []
    if abs(means["best"] - 100.0) > 1e-6:
        objections.append("the best has no 100")
    if max(means.values()) > means["best"]:
        objections.append("somebody is before the best")
    objections += [
        f"{name} before greedy"
        for name in ("random", "swapper")
        if means[name] >= means["greedy"] and found.minutes[name] > found.minutes["greedy"]
    ]
    if found.capped and found.skipper >= GOOD:
        objections.append("a skipper has a good mark")
    return objections


def fidelity(library: Library) -> Iterator[str]:
    """One line for each symptom: chi-square, degrees of freedom and critical value (1 in 1,000), three times."""
    for symptom in library.symptoms:
        cells = []
        for level in (1, 2):
            made = drawn(library, symptom, level, DRAWS)
            cells.append(faults_agree(made, expected(library, symptom, level)))
        cells.append(answers_agree(library, made))
        said = "  ".join(f"{one.statistic:6.1f} {one.freedom:3} {one.most:6.1f}" for one in cells)
        yield f"{symptom:38} {said}  {'agrees' if all(one.good for one in cells) else 'DIFFERS'}"


def taking(library: Library, count: int) -> Iterator[str]:
    """One line for each symptom, then the mean of all: the best strategy's minutes as a share of those expected."""
    shares: list[float] = []
    for symptom in library.symptoms:
        made = [scenario(library, symptom, LEVEL, seed) for seed in range(count)]
        least = outlook(Case.open(library, [symptom]), made[0], looked=True).least
        took = [reference(library, one).minutes / least for one in made]
        shares.append(mean(took))
        yield f"{symptom:38} {least:8.1f} {shares[-1]:6.2f} +- {stdev(took) / count**0.5:4.2f}"
    yield f"{'all':38} {'':8} {mean(shares):6.2f}"


def marking(library: Library, count: int, symptoms: Sequence[str]) -> Iterator[str]:
    """One line for each symptom: marks of the habits (`-`: there was no caution), minutes of the first four."""
    for symptom in symptoms or library.symptoms:
        found = marks(library, symptom, count)
        order = ("best", "greedy", "swapper", "random")
        said = " ".join(f"{found.means[name]:7.1f}" for name in order)
        spent = " ".join(f"{found.minutes[name]:5.0f}" for name in order)
        yield (
            f"{symptom:38} {said} {found.skipper:7.1f}{' ' if found.capped else '-'} {found.swap:6.2f}  {spent}  "
            f"{'; '.join(ranked(found)) or 'as an instructor would'}"
        )


def main(arguments: list[str]) -> None:
    """Print every line."""
    library, part = load(ROOT / "trees"), arguments[0] if arguments else "all"
    count = int(arguments[1]) if len(arguments) > 1 else None
    print(machine())
    if part in ("fidelity", "all"):
        print(f"{'symptom':38} one fault            as in service         answers of checks")
        for line in fidelity(library):
            print(line, flush=True)
    if part in ("minutes", "all"):
        print(f"{'symptom':38} expected   took")
        for line in taking(library, count or RUNS):
            print(line, flush=True)
    if part in ("marks", "all"):
        print(f"{'symptom':38}    best  greedy swapper  random skipper   swap  minutes")
        for line in marking(library, count or COUNT, arguments[2:]):
            print(line, flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
