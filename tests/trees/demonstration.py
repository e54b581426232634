"""The demonstration library, loaded once, and its nodes in any state of the aircraft."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

from faultree.library import model
from faultree.library.load import load
from tests.oracles.brute import World

TREES = Path(__file__).resolve().parents[2] / "trees"
NOTHING: frozenset[str] = frozenset()


@cache
def library() -> model.Library:
    """The library of `trees/`."""
    return load(TREES)


def aircraft(situation: str, faults: Iterable[str] = NOTHING, facts: Mapping[str, bool] | None = None) -> World:
    """The aircraft in a situation of `aircraft.yaml`, with some of its conditions set otherwise.

    `facts` are conditions of that file by their short ids; `faults` are short or full cause ids.
    """
    lib = library()
    base = lib.situations[f"aircraft/{situation}"]
    sets = {f"aircraft/{name}": value for name, value in (facts or {}).items()}
    unknown = set(sets) - set(lib.conditions)
    assert not unknown, f"no such conditions: {unknown}"
    here = replace(base, id="aircraft/as-told", sets={**base.sets, **sets})
    situations: Mapping[str, model.Situation] = {**lib.situations, here.id: here}
    return World(replace(lib, situations=situations), map(lib.cause_id, faults), here.id)


def seen(symptom: model.Symptom, faults: Iterable[str] = NOTHING) -> bool:
    """Whether everything that a symptom sees holds with these causes (full ids) present."""
    world = World(library(), faults, symptom.situation)
    return all(world.node(name) == value for name, value in symptom.sees)
