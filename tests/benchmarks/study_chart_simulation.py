"""Hidden faults through the charts of every symptom: `python -m tests.benchmarks.study_chart_simulation [SECONDS]`.

For each symptom two runs. First 20,000 hidden faults drawn as the chart supposes them (a fault set that explains
the report and holds nothing superfluous): their mean minutes are what the chart promises, within 3 standard errors.
Then faults as they are: whatever else may be wrong by coincidence is drawn as well, each item by its own prior; here
one sees how far the promise holds when other faults falsify some answers. SECONDS (5) are spent on each chart.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from faultree.library.load import load
from faultree.library.model import Library
from faultree.strategy.chart.compile import DOUBT, LEAST, compile_chart, posed_chart
from faultree.strategy.chart.value import Chart, End
from tests.benchmarks.machine import machine
from tests.house.source import ROOT
from tests.oracles.brute import choices
from tests.strategy.chart.simulated import Aircraft, Faults, Walks, walked

SUPPOSED = 20_000
REAL = 2_000


class Drawn(NamedTuple):
    """Fault sets as they are, with their weights."""

    sets: list[Faults]
    weights: NDArray[np.float64]


def coincidences(library: Library, symptom: str, sets: list[Faults], chances: list[float], seed: int) -> Drawn:
    """Fault sets given the report, other faults included.

    A charted set is drawn, then every other item by its prior; a set that holds k charted ones would be drawn in k
    ways, so it weighs 1/k. What no longer shows the report is dropped.
    """
    rng = np.random.default_rng(seed)
    aircraft = Aircraft(library, [symptom], [])
    roots = choices(library)
    home = {name: place for place, options in enumerate(roots) for name, _ in options if name is not None}
    found: list[Faults] = []
    weights: list[float] = []
    for number in rng.choice(len(sets), REAL, p=np.array(chances) / sum(chances)).tolist():
        taken = {home[cause] for cause in sets[number]}
        drawn = set(sets[number])
        for place, options in enumerate(roots):
            if place not in taken:
                name = options[int(rng.choice(len(options), p=[share for _, share in options]))][0]
                drawn |= {name} if name is not None else set()
        faults = frozenset(drawn)
        if aircraft.brute.sees(symptom, faults):
            found.append(faults)
            weights.append(1.0 / sum(one <= faults for one in sets))
    return Drawn(found, np.array(weights) / sum(weights))


def named(library: Library, chart: Chart, real: Drawn, walks: Walks) -> float:
    """P(an end of the chart names an item that is at fault)."""
    total = 0.0
    for faults, number, weight in zip(real.sets, walks.end.tolist(), real.weights, strict=True):
        node = chart.nodes.get(number)
        if isinstance(node, End):
            at_fault = {library.causes[cause].item or cause for cause in faults}
            total += float(weight) * bool(at_fault & {one.item or one.cause for one in node.causes[:3]})
    return total


def lines(library: Library, seconds: float) -> Iterator[str]:
    """One line for each symptom."""
    for seed, symptom in enumerate(library.symptoms):
        chart = compile_chart(library, [symptom], limit_s=seconds)
        suspicion = posed_chart(library, [symptom], "item", None, LEAST, DOUBT).suspicion
        sets, chances = list(suspicion.sets), list(suspicion.chances)
        rng = np.random.default_rng(seed)
        hidden = rng.choice(len(sets), SUPPOSED, p=np.array(chances) / sum(chances))
        walks = walked(Aircraft(library, [symptom], list(sets)), chart, hidden, rng)
        error = float(walks.minutes.std()) / SUPPOSED**0.5
        off = (float(walks.minutes.mean()) - chart.expected_minutes) / error if error > 0.0 else 0.0
        real = coincidences(library, symptom, sets, chances, seed)
        aircraft = Aircraft(library, [symptom], list(dict.fromkeys(real.sets)))
        order = {faults: number for number, faults in enumerate(aircraft.sets)}
        true = walked(aircraft, chart, np.array([order[one] for one in real.sets]), rng)
        mean = float(real.weights @ true.minutes)
        yield (
            f"{symptom:38} {chart.expected_minutes:8.2f} {off:6.2f} {mean:8.2f} "
            f"{float(real.weights @ (true.end == 0)):7.4f} {named(library, chart, real, true):7.4f} "
            f"{len(chart.nodes):6} {chart.cut:7.4f} {chart.left_out:7.4f}"
        )


def main() -> None:
    """Print every line."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 5.0
    print(machine())
    print(f"{'symptom':38} expected   off SE  as is   no way  named   nodes  cut     left out")
    worst = 0.0
    for line in lines(load(ROOT / "trees"), seconds):
        print(line, flush=True)
        worst = max(worst, abs(float(line.split()[2])))
    print(f"farthest from what was promised: {worst:.2f} standard errors (to reach: 3)")


if __name__ == "__main__":
    main()
