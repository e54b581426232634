"""A pump that does not move its gate: five causes in three items, a check that errs, cautions of two levels."""

from __future__ import annotations

from functools import cache

from faultree.library.load import load_texts
from faultree.library.model import Library

GATE = """
faultree: 1
title: Gate of a fictional pond
cautions:
  moving: {text: "The gate moves; keep hands away", level: warning}
  wet: {text: "Water on the floor", level: caution}
access:
  lid: {title: Lift the lid, minutes: 10, cautions: [wet]}
items:
  pump: {title: Pump, minutes: 60, cautions: [moving]}
  valve: {title: Valve, minutes: 20, access: [lid]}
  motor: {title: Motor, minutes: 30}
causes:
  pump-worn: {title: Pump worn, item: pump, probability: 0.04}
  pump-dry: {title: Pump dry, item: pump, probability: 0.02}
  valve-shut: {title: Valve stuck shut, item: valve, probability: 0.03}
  motor-dead: {title: Motor dead, item: motor, probability: 0.05}
  leak: {title: Hose leaks, probability: 0.01, minutes: 15}
  mat-torn: {title: Door mat torn, probability: 0.2, minutes: 5}
signals:
  turning: {title: The motor turns, lost_if: [motor-dead]}
  pressure: {title: Pressure, follows: turning, lost_if: [pump-worn, pump-dry, leak]}
  moves: {title: The gate moves, follows: pressure, lost_if: [valve-shut]}
checks:
  listen: {title: Listen to the motor, reads: turning, minutes: 2, by: crew}
  gauge: {title: Read the gauge, reads: pressure, minutes: 5, false_yes: 0.1, false_no: 0.05, cautions: [moving]}
  look-in: {title: Look into the valve, reads: valve-shut, minutes: 5, access: [lid]}
  mat: {title: Look at the door mat, reads: mat-torn, minutes: 1}
symptoms:
  still: {title: The gate does not move, words: [gate stuck, nothing happens], sees: {moves: no}, retest: 3}
"""


@cache
def gate() -> Library:
    """The library."""
    return load_texts({"g.yaml": GATE})
