"""How long 20,000 lines of tree file take, beside `yaml.compose` alone: `python -m tests.benchmarks.bench_load`."""

from __future__ import annotations

import sys
from collections.abc import Callable
from time import perf_counter

import yaml

from faultree.library.load import read_texts
from faultree.library.marked import FAST_LOADER, SAFE_LOADER, parse

REACH = 1.0
RUNS = 3
HEAD = "faultree: 1\ntitle: a system made for measuring\nconditions:\n  powered: {title: powered, usually: yes}\n"
GROUP = {
    "items": """
  pump-{n}:
    title: pump {n}
    place: bay {n}
    manual: task {n}
    minutes: 45""",
    "causes": """
  worn-{n}:
    title: pump {n} worn
    item: pump-{n}
    probability: 0.001
    note: slow at first
  broken-{n}:
    title: pump {n} broken
    item: pump-{n}
    rate: 1e-6
    hours: 200""",
    "signals": """
  flow-{n}:
    title: flow {n}
    follows:
      all:
        - powered
        - not: broken-{n}
    lost_if:
      - worn-{n}
      - all: [broken-{n}, down-{before}]""",
    "events": """
  down-{n}:
    title: supply {n} is down
    any:
      - not: flow-{n}
      - worn-{n}""",
    "checks": """
  look-{n}:
    title: look at gauge {n}
    ask: Does gauge {n} move?
    reads: flow-{n}
    yes: it moves
    no: it stays
    false_no: 0.02
    minutes: 4
    by: line""",
    "symptoms": """
  low-{n}:
    title: supply {n} is reported low
    event: down-{n}
    words:
      - low {n}
    retest: 12""",
}


def tree_text(lines: int) -> str:
    """One tree file of about so many lines, in groups of an item, two causes, a signal, an event and so on."""
    groups = max(1, lines // sum(text.count("\n") for text in GROUP.values()))
    sections = []
    for name, text in GROUP.items():
        first = "\n  down-0: {title: supply 0 is down, any: [worn-1]}" if name == "events" else ""
        entries = [text.format(n=n, before=n - 1) for n in range(1, groups + 1)]
        sections.append(f"{name}:{first}{''.join(entries)}\n")
    return HEAD + "".join(sections)


def seconds(work: Callable[[], object], runs: int = RUNS) -> float:
    """The shortest of a few runs."""
    times = []
    for _ in range(runs):
        begin = perf_counter()
        work()
        times.append(perf_counter() - begin)
    return min(times)


def main() -> None:
    """Print the figures beside what they are meant to reach."""
    text = tree_text(int(sys.argv[1]) if len(sys.argv) > 1 else 20_000)
    library, problems = read_texts({"made.yaml": text})
    assert library is not None, problems[:5]
    broken = text.replace("follows:", "folows:").replace("event: down", "event: dwn")
    composed = seconds(lambda: yaml.compose(text, Loader=FAST_LOADER))
    loaded = seconds(lambda: read_texts({"made.yaml": text}))
    figures = {
        "yaml.compose alone": composed,
        "marked nodes": seconds(lambda: parse(text, "made.yaml")),
        "loaded and checked": loaded,
        "two mistakes in each group": seconds(lambda: read_texts({"made.yaml": broken})),
        "loaded, parser in Python": seconds(lambda: read_texts({"made.yaml": text}, loader=SAFE_LOADER), 1),
    }
    print(f"{len(text.splitlines()):,} lines, {len(library.causes):,} causes, parser {FAST_LOADER.__name__}")
    for name, taken in figures.items():
        print(f"{name:<28}{1000 * taken:8.0f} ms  {taken / composed:5.2f} x compose")
    print(f"to reach {1000 * REACH:.0f} ms: {'reached' if loaded <= REACH else 'NOT reached'}")


if __name__ == "__main__":
    main()
