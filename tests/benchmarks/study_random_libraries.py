"""A long comparison of the engine with enumeration on many random libraries: `-m ... [COUNT] [FIRST SEED]`.

Prints how many cases agreed and each seed that did not; ends with 1 if there was one. Ten thousand
libraries, three cases each, take about twenty minutes on one core.
"""

from __future__ import annotations

import random
import sys
from collections import Counter

from tests.oracles.held_against import hold
from tests.oracles.random_cases import random_case
from tests.oracles.random_libraries import Size, random_library

CASES = 3
ENOUGH = 10
"""After so many disagreements the study ends: the next hundred would say the same."""

SIZES = (Size(), Size(nodes=18, checks=8, fault_sets=512), Size(files=1, nodes=5, checks=3, fault_sets=32))


def study(seed: int) -> Counter[str]:
    """Cases of one seed by outcome; a disagreement is printed with the seed that makes it again."""
    rng = random.Random(seed)
    library = random_library(rng, SIZES[seed % len(SIZES)]).library
    outcomes: Counter[str] = Counter()
    for number in range(CASES):
        brute = random_case(rng, library, nonsense=(0.15, 0.5)[seed % 2])
        try:
            outcomes["agrees" if hold(brute) is not None else "agrees that it contradicts itself"] += 1
        except Exception as error:  # noqa: BLE001 - whatever it is, the study goes on and reports it
            outcomes["disagrees"] += 1
            print(f"seed {seed}, case {number}: {type(error).__name__}: {error}", flush=True)
    return outcomes


def main(arguments: list[str]) -> int:
    """Run the study for a count of seeds."""
    count = int(arguments[0]) if arguments else 10_000
    first = int(arguments[1]) if len(arguments) > 1 else 100_000
    outcomes: Counter[str] = Counter()
    seed = first
    for seed in range(first, first + count):
        outcomes += study(seed)
        if outcomes["disagrees"] >= ENOUGH:
            break
    print(f"random libraries {first} to {seed}, {CASES} cases each: {dict(outcomes)}")
    return 1 if outcomes["disagrees"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
