"""A small invented hydraulic system that the tests of this room share, and short ways to ask about it."""

from __future__ import annotations

from functools import cache

from faultree.belief.evidence import Point
from faultree.belief.frame import Frame, frame_of
from faultree.library.load import load_texts
from faultree.library.model import Library

PUMP = """
conditions:
  powered: {title: power is on, usually: yes}
  armed: {title: the system is armed}
situations:
  plain: {title: as it usually is, sets: {powered: yes}}
  dark: {title: power off, sets: {powered: no}}
  ready: {title: armed, sets: {armed: yes}}
items:
  pump: {title: pump, minutes: 40, access: [bay]}
  gauge: {title: gauge, minutes: 10}
  spare: {title: a part in which nothing is known to fail}
causes:
  worn: {title: pump worn, item: pump, probability: 0.10}
  leak: {title: pipe leaking, probability: 0.20, minutes: 25}
  seized: {title: pump seized, item: pump, probability: 0.05}
  low: {title: gauge reads low, item: gauge, probability: 0.04}
  high: {title: gauge reads high, item: gauge, probability: 0.02}
  valve: {title: valve stuck, probability: 0.30}
signals:
  pressure: {title: pressure, follows: powered, lost_if: [worn, seized, leak]}
  shown: {title: pressure shown, follows: pressure, lost_if: [low], forced_if: [high]}
  moves: {title: it moves, follows: {all: [pressure, armed]}, lost_if: [valve]}
events:
  noisy: {title: noise at the pump, any: [worn, leak]}
access:
  bay: {title: open the bay, minutes: 15}
checks:
  feel: {title: feel the pipe, ask: Is there pressure?, reads: pressure, minutes: 4, access: [bay]}
  read: {title: read the gauge, ask: Does it show pressure?, reads: shown, false_yes: 0.05, false_no: 0.10, minutes: 1}
  read-dark: {title: read it without power, ask: Does it show pressure?, situation: dark, reads: shown, minutes: 2}
  try: {title: arm it and watch, ask: Does it move?, situation: ready, reads: moves, minutes: 6}
  listen:
    title: listen at the pump
    ask: What do you hear?
    answers:
      nothing: {text: Nothing, when: seized}
      rattle: {text: A rattle, when: {all: [noisy, {not: seized}]}}
      hum: {text: A hum, when: otherwise}
    error: 0.2
    minutes: 3
    by: crew
symptoms:
  still: {title: it does not move, situation: ready, sees: {moves: no}, retest: 5}
  no-reading: {title: no pressure is shown, sees: {shown: no}, false_report: 0.02, retest: 3}
  odd: {title: pressure is shown and there is none, sees: {shown: yes, pressure: no}}
"""


MESH = """
causes:
  a: {title: A, probability: 0.1}
  b: {title: B, probability: 0.15}
  c: {title: C, probability: 0.2}
  d: {title: D, probability: 0.05}
  e: {title: E, probability: 0.12}
events:
  ab: {title: A or B, any: [a, b]}
  bc: {title: B or C, any: [b, c]}
  cd: {title: C and D, all: [c, d]}
  de: {title: D or E, any: [d, e]}
  ea: {title: Either E or A, one_of: [e, a]}
  ac: {title: A and not C, all: [a, {not: c}]}
  bd: {title: B or D, any: [b, d]}
  top: {title: Two of them, at_least: {count: 2, of: [ab, bc, cd, de, ea]}}
"""
"""Five causes, each in several gates: nothing of it hangs together by one thread."""


def library(text: str) -> Library:
    """A library of one file; the file's id is `s`, so full ids read `s/pump`."""
    return load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{text}"})


@cache
def pump() -> Library:
    """The library of `PUMP`, loaded once."""
    return library(PUMP)


def pump_frame() -> Frame:
    """The frame of `pump`."""
    return frame_of(pump())


def node(frame: Frame, name: str, situation: str | None = None, *repaired: str) -> Point:
    """The point of a node (short id) in a situation (short id), some units made good."""
    roots = frozenset(frame.prior.index[f"s/{unit}"] for unit in repaired)
    return Point(frame.graph.literals[f"s/{name}"], frame.world(situation and f"s/{situation}", roots))
