"""Larger synthetic fault graphs, for timings and for comparisons that enumeration cannot reach.

OR-heavy, built bottom up in rows from the causes to one top: 18 % of the inputs are shared with a
neighbouring gate, 10 % of the AND gates have an inverted input, and priors lie evenly on a log scale
between 1e-4 and 1e-2. `local` sharing is between neighbours only; with `hubs` it is with one of twenty
causes instead, wherever a gate stands; `global` takes one further input in ten from anywhere below.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from typing import Literal

from faultree.library import model
from faultree.library.load import load_texts
from tests.oracles.brute import World, choices
from tests.oracles.tree_text import Plain, document

Sharing = Literal["local", "hubs", "global"]

FILE = "graph"
TOP = f"{FILE}/reported"


class _Rows:
    """Draws the gates of one graph, row by row."""

    def __init__(self, rng: random.Random, causes: int, sharing: Sharing) -> None:
        self.rng = rng
        self.sharing = sharing
        hubs = min(20, causes // 3) if sharing == "hubs" else 0
        self.hubs = [f"hub{number}" for number in range(hubs)]
        self.causes = [f"c{number}" for number in range(causes - hubs)]
        self.below: list[str] = list(self.causes)
        self.events: dict[str, dict[str, Plain]] = {}

    def build(self) -> None:
        row = list(self.causes)
        while len(row) > 1:
            row = self.next_row(row)
        (self.top,) = row

    def next_row(self, row: list[str]) -> list[str]:
        above: list[str] = []
        place = 0
        while place < len(row):
            width = self.rng.randint(2, 4)
            own = row[place : place + width]
            shared = self.shared(own, row[place + width : place + width + len(own)])
            place += width
            inputs = list(dict.fromkeys(own + shared))
            top = not above and place >= len(row)
            above.append(self.gate(inputs, must_be_any=top) if len(inputs) > 1 else inputs[0])
        self.below += above
        return above

    def shared(self, own: list[str], neighbours: list[str]) -> list[str]:
        if self.sharing == "hubs":
            return [self.rng.choice(self.hubs) for _ in own if self.rng.random() < 0.18]
        found = [near for near in neighbours if self.rng.random() < 0.18]
        if self.sharing == "global":
            found += [self.rng.choice(self.below) for _ in own if self.rng.random() < 0.1]
        return found

    def gate(self, inputs: list[str], *, must_be_any: bool) -> str:
        operands: list[Plain] = list(inputs)
        kind = "any"
        if not must_be_any and self.rng.random() < 0.25:
            kind = "all"
            if self.rng.random() < 0.1:
                inverted = self.rng.randrange(len(operands))
                operands[inverted] = {"not": operands[inverted]}
        name = f"g{len(self.events)}"
        self.events[name] = {"title": f"Gate {name}", kind: operands}
        return name


def synthetic_text(rng: random.Random, causes: int, sharing: Sharing = "local", checks: int | None = None) -> str:
    """The tree file of a synthetic graph with this many causes, each an item of its own.

    It has one symptom, `TOP`, at the top gate, and a third as many yes/no checks as causes (or
    `checks`) on random gates, every third of them imperfect.
    """
    rows = _Rows(rng, causes, sharing)
    rows.build()
    names = rows.causes + rows.hubs
    gates = list(rows.events)
    count = causes // 3 if checks is None else checks
    read = rng.sample(gates, min(count, len(gates)))
    sections: dict[str, dict[str, Plain]] = {
        "items": {f"i{name}": {"title": f"Item of {name}", "minutes": rng.randint(10, 120)} for name in names},
        "causes": {name: _cause(rng, name) for name in names},
        "events": dict(rows.events),
        "checks": {f"see-{name}": _check(rng, place, name) for place, name in enumerate(read)},
        "symptoms": {TOP.partition("/")[2]: {"title": "Reported", "event": rows.top}},
    }
    return document(f"Synthetic graph of {causes} causes", sections)


def _cause(rng: random.Random, name: str) -> Plain:
    return {"title": f"Cause {name}", "item": f"i{name}", "probability": 10.0 ** rng.uniform(-4.0, -2.0)}


def _check(rng: random.Random, place: int, name: str) -> Plain:
    fields: dict[str, Plain] = {"title": f"Look at {name}", "ask": "Is it so", "reads": name}
    fields["minutes"] = rng.randint(2, 40)
    if place % 3 == 2:
        fields |= {"false_yes": round(rng.uniform(0.01, 0.1), 3), "false_no": round(rng.uniform(0.01, 0.2), 3)}
    return fields


def synthetic_library(seed: int, causes: int, sharing: Sharing = "local", checks: int | None = None) -> model.Library:
    """The library of `synthetic_text` for a seed."""
    text = synthetic_text(random.Random(seed), causes, sharing, checks)
    return load_texts({f"{FILE}.yaml": text})


def hidden_faults(
    rng: random.Random, library: model.Library, symptom: str = TOP, tries: int = 100_000
) -> frozenset[str]:
    """A fault set drawn from the prior among those that show the symptom (by rejection)."""
    told = library.symptoms[symptom]
    units = choices(library)
    for _ in range(tries):
        faults = frozenset(name for unit in units if (name := _mode(rng, unit)) is not None)
        if faults:
            world = World(library, faults, told.situation)
            if all(world.node(name) == value for name, value in told.sees):
                return faults
    raise ValueError(f"no fault set in {tries} shows '{symptom}'")


def _mode(rng: random.Random, unit: Sequence[tuple[str | None, float]]) -> str | None:
    """Good (None) or one of the unit's causes, by their shares."""
    point = rng.random()
    for name, share in reversed(unit):
        point -= share
        if point < 0.0:
            return name
    return None


def true_answer(rng: random.Random, library: model.Library, check: str, faults: frozenset[str]) -> str:
    """What the check answers under these faults, wrong as often as it is said to be."""
    asked = library.checks[check]
    world = World(library, faults, asked.situation)
    (right,) = [one.id for one in asked.answers if world.holds(one.when)]
    weights = [asked.confusion(one.id, right) for one in asked.answers]
    return rng.choices([one.id for one in asked.answers], weights)[0]
