"""Random dependency matrices, as puzzles for the oracle and as the same thing written down in a tree file."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from faultree.library.load import load_texts
from faultree.library.model import Library
from tests.oracles.least_chart import Asked, Mended, Puzzle
from tests.oracles.tree_text import Plain, document

RARE = 1e-9
"""The causes' summed prior: so small that two at once, which the puzzles know nothing of, weigh nothing."""


class Draw(NamedTuple):
    """How puzzles are drawn: most causes, checks, answers of a check and access ways.

    Also whether causes share items, whether there are repairs, whether the sizes are exact, and how many causes a check
    reads (a random share of them, if None).
    """

    causes: int = 10
    checks: int = 10
    answers: int = 2
    access: int = 0
    items: bool = False
    restore: bool = False
    exact: bool = False
    reads: tuple[int, int] | None = None


def drawn(rng: random.Random, kind: Draw) -> Puzzle:
    """A random puzzle: chances within a factor of 20, checks of 1 to 30 minutes, access of 5 to 40."""
    count = kind.causes if kind.exact else rng.randint(2, kind.causes)
    raw = [20.0 ** rng.random() for _ in range(count)]
    chances = tuple(one / sum(raw) for one in raw)
    calls = tuple(rng.randrange(count) for _ in raw) if kind.items else tuple(range(count))
    access = tuple(rng.uniform(5.0, 40.0) for _ in range(kind.access))
    looks = kind.checks if kind.exact else rng.randint(1, kind.checks)
    checks = tuple(_asked(rng, kind, count) for _ in range(looks))
    repairs = tuple(_mended(rng, kind, calls, one) for one in dict.fromkeys(calls)) if kind.restore else ()
    return Puzzle(chances, calls, checks, access, repairs)


def _needs(rng: random.Random, kind: Draw) -> frozenset[int]:
    return frozenset(way for way in range(kind.access) if rng.random() < 0.35)


def _asked(rng: random.Random, kind: Draw, count: int) -> Asked:
    answers = rng.randint(2, kind.answers)
    if kind.reads is None:
        share = rng.uniform(0.15, 0.5)
        given = [rng.randrange(1, answers) if rng.random() < share else 0 for _ in range(count)]
    else:
        read = rng.sample(range(count), min(count, rng.randint(*kind.reads)))
        given = [rng.randrange(1, answers) if cause in read else 0 for cause in range(count)]
    return Asked(rng.uniform(1.0, 30.0), tuple(given), _needs(rng, kind))


def _mended(rng: random.Random, kind: Draw, calls: tuple[int, ...], call: int) -> Mended:
    causes = frozenset(cause for cause, one in enumerate(calls) if one == call)
    return Mended(rng.uniform(10.0, 90.0), causes, _needs(rng, kind))


def library_of(puzzle: Puzzle, errors: Sequence[float] = ()) -> Library:
    """The puzzle as a tree file: the system `s` with one symptom `reported` that every cause shows by itself.

    `errors` says how often each check errs; not at all, unless given.
    """
    access: dict[str, Plain] = {f"w{n}": {"title": f"Way {n}", "minutes": one} for n, one in enumerate(puzzle.access)}
    items: dict[str, Plain] = {f"i{call}": {"title": f"Item {call}"} for call in dict.fromkeys(puzzle.calls)}
    for repair in puzzle.repairs:
        call = puzzle.calls[min(repair.causes)]
        items[f"i{call}"] = {"title": f"Item {call}", "minutes": repair.minutes, "access": _ways(repair.access)}
    causes: dict[str, Plain] = {
        f"c{n}": {"title": f"Cause {n}", "item": f"i{call}", "probability": float(f"{RARE * chance:.17g}")}
        for n, (chance, call) in enumerate(zip(puzzle.chances, puzzle.calls, strict=True))
    }
    events: dict[str, Plain] = {"failed": {"title": "Failed", "any": list(causes)}}
    checks: dict[str, dict[str, Plain]] = {}
    for n, asked in enumerate(puzzle.checks):
        checks[f"k{n}"] = _check(n, asked, events)
        if n < len(errors) and errors[n] and "answers" in checks[f"k{n}"]:
            checks[f"k{n}"]["error"] = errors[n]
    symptoms: dict[str, Plain] = {"reported": {"title": "Reported", "event": "failed", "retest": 0}}
    sections: dict[str, Mapping[str, Plain]] = {
        "access": access, "items": items, "causes": causes, "events": events, "checks": checks, "symptoms": symptoms,
    }  # fmt: skip
    return load_texts({"s.yaml": document("One fault among a few causes", sections)})


def _ways(access: frozenset[int]) -> list[str]:
    return [f"w{way}" for way in sorted(access)]


def _check(number: int, asked: Asked, events: dict[str, Plain]) -> dict[str, Plain]:
    """A check whose answers are read from an event each; answer 0 is what is left."""
    whens: dict[str, Plain] = {}
    for answer in range(1, max(*asked.answers, 1) + 1):
        causes = [f"c{cause}" for cause, given in enumerate(asked.answers) if given == answer]
        if causes:
            events[f"e{number}-{answer}"] = {"title": f"Sign {number} {answer}", "any": causes}
            whens[f"a{answer}"] = {"text": f"Answer {answer}", "when": f"e{number}-{answer}"}
    if not whens:  # a check that can tell nothing still stands in the file
        return {"title": f"Check {number}", "ask": "Is it so", "reads": "failed", "minutes": asked.minutes}
    whens["a0"] = {"text": "Answer 0", "when": "otherwise"}
    fields: dict[str, Plain] = {"title": f"Check {number}", "ask": "What is seen", "answers": whens}
    return fields | {"minutes": asked.minutes, "access": _ways(asked.access)}
