"""Charts written by hand over the small signal library, so that what is made of a chart can be tested by itself."""

from __future__ import annotations

from dataclasses import replace

from faultree.strategy.chart.value import GONE, STILL, Chart, End, Exit, Open, Step
from tests.walk.small import DARK, small

LAMP = Open("signal/lamp-broken", "signal/lamp", 0.5)
ON = "Continue in the shop with: test the relay on the bench."
RELAY = Open("signal/relay-open", "signal/relay", 0.25)
FUSE = Open("signal/fuse-blown", "signal/fuse", 0.2)
WIRE = Open("signal/wire-broken", None, 0.05)

TWO = """
faultree: 1
title: Two
causes:
  a: {title: a bad, probability: 0.1, minutes: 10}
  b: {title: b bad, probability: 0.1, minutes: 10}
  c: {title: c bad, probability: 0.01, minutes: 10}
  d: {title: d bad, probability: 0.05, minutes: 10}
events:
  one: {title: one, any: [a, c]}
  two: {title: two, any: [b, c, d]}
  both: {title: both, any: [{all: [a, b]}, c]}
checks:
  look: {title: look, reads: both, false_yes: 0.1, false_no: 0.1, minutes: 2}
symptoms:
  s1: {title: one is seen, event: one, retest: 0}
  s2: {title: two is seen, event: two, retest: 0}
"""
"""Two reports that share a cause and have one of their own each."""


def chart() -> Chart:
    """Three checks; number 6 is reached by two ways, one of which takes the panel off."""
    nodes = (
        Step(1, "check", "signal/click", "listen to the relay", "What do you hear?", "crew", 3.0, (), (), 1.0,
             (LAMP, RELAY, FUSE, WIRE), (Exit("silence", "Nothing", 0.4, 2), Exit("click", "One clear click", 0.6, 4))),
        Step(2, "check", "signal/supply-seen", "look at the supply light", "Is the supply light on?", "line", 2.0,
             (), ("signal/live",), 0.4, (RELAY, FUSE), (Exit("yes", "Yes", 0.5, 6), Exit("no", "No", 0.5, 3))),
        End(3, "found", ("signal/fuse",), (replace(FUSE, probability=1.0),), (), ("signal/live", "signal/dazzle"), 0.2,
            "Replace the signal fuse."),
        Step(4, "check", "signal/voltage", "measure the voltage at the lamp", "Is there voltage at the lamp?", "line",
             25.0, ("signal/panel",), ("signal/probe", "signal/live", "signal/dazzle", "signal/edges"), 0.6,
             (LAMP, RELAY, WIRE), (Exit("yes", "Yes", 0.5, 5), Exit("no", "No", 0.5, 6))),
        End(5, "found", ("signal/lamp",), (replace(LAMP, probability=1.0),), ("SM 33-41",), ("signal/glass",), 0.3,
            "Replace the signal lamp."),
        End(6, "open", ("signal/relay", "signal/wire-broken"), (replace(RELAY, probability=0.8), replace(WIRE,
            probability=0.2)), ("SM 33-42", "SM 33-49"), ("signal/live",), 0.5, "No check that is left tells more."),
    )  # fmt: skip
    return _of(nodes, "item", expected_minutes=18.8, lower_bound=18.0, worst_minutes=28.0, expected_checks=2.0)


def repairs() -> Chart:
    """A replacement comes first, then a check, for the goal `restore`."""
    nodes = (
        Step(1, "replace", "signal/fuse", "signal fuse", "Is the symptom gone?", "line", 10.0, (), ("signal/live",),
             1.0, (FUSE, RELAY), (Exit(GONE, "The symptom is gone", 0.4, 2), Exit(STILL, "Still there", 0.6, 3))),
        End(2, "restored", ("signal/fuse",), (replace(FUSE, probability=1.0),), (), (), 0.4, "Hand the aircraft over."),
        End(3, "continue", ("signal/relay",), (RELAY, WIRE), ("SM 33-42",), (), 0.6, ON),
    )  # fmt: skip
    return _of(nodes, "restore", expected_minutes=10.0, lower_bound=10.0, worst_minutes=10.0, expected_checks=0.0)


def _of(nodes: tuple[Step | End, ...], goal: str, **figures: float) -> Chart:
    return Chart(
        symptoms=(DARK,),
        goal=goal,  # type: ignore[arg-type]  # one of the three words, all of which are used above
        by=("crew", "line", "shop"),
        cut=0.0,
        digest=small().digest,
        nodes={node.number: node for node in nodes},
        **figures,  # type: ignore[arg-type]  # none of them is a flag
    )
