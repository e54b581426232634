"""A small system of our own for pages: a chart of a few steps, with cautions, and titles that mean harm."""

from __future__ import annotations

from functools import cache

from faultree.library.load import load_texts
from faultree.library.model import Library

TREE = """
faultree: 1
title: Gate of a fictional pond
authority: The pond manual governs
cautions:
  moving: {text: "The gate moves; keep hands away", level: warning}
items:
  pump: {title: Pump, minutes: 60, manual: P 1, place: pit}
  motor: {title: Motor, minutes: 30, manual: P 2, cautions: [moving]}
causes:
  worn: {title: "pump worn <script>alert(1)</script>", item: pump, probability: 0.04}
  shut: {title: 'valve "stuck" & shut', probability: 0.03, manual: P 3}
  dead: {title: motor dead, item: motor, probability: 0.05}
signals:
  turning: {title: the motor turns, lost_if: [dead]}
  pressure: {title: pressure, follows: turning, lost_if: [worn]}
  moves: {title: the gate moves, follows: pressure, lost_if: [shut]}
checks:
  listen: {title: listen to the motor, ask: Does it hum?, reads: turning, minutes: 2, cautions: [moving], manual: P 4}
  gauge: {title: read the gauge, ask: Is there pressure?, reads: pressure, minutes: 5, manual: P 5}
symptoms:
  still: {title: "the gate does not move </script><script>alert(2)</script>", sees: {moves: no}, retest: 3}
"""


@cache
def gate() -> Library:
    """The library."""
    return load_texts({"g.yaml": TREE})
