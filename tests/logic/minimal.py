"""Minimal cut sets by their definition, from every fault set of a small library."""

from __future__ import annotations

from faultree.library.load import load_texts
from faultree.library.model import Library
from tests.oracles.brute import Faults, World, fault_sets


def small(text: str) -> Library:
    """A one-file library; the file's id is `s`."""
    return load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{text}"})


def producing(library: Library, symptom: str) -> dict[Faults, float]:
    """Every fault set that produces a symptom (by full id), with its prior."""
    entry = library.symptoms[symptom]
    found = {}
    for faults, share in fault_sets(library):
        world = World(library, faults, entry.situation)
        if all(world.node(node) == value for node, value in entry.sees):
            found[faults] = share
    return found


def minimal(library: Library, symptom: str) -> set[Faults]:
    """Those of which no part produces it."""
    sets = producing(library, symptom)
    return {one for one in sets if not any(other < one for other in sets)}
