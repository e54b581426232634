"""A small invented system that every test of the walk, the screen and the commands can hold in mind.

A lamp is lit when power goes through a fuse, a relay and a wire and somebody presses the button.
"""

from __future__ import annotations

from functools import cache

from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.walk import events as ev
from faultree.walk.machine import start, step
from faultree.walk.state import Walk

SIGNAL = """
faultree: 1
title: Landing signal
summary: An invented system for tests.
chapter: "33-40"
authority: SM 33, invented
x-quiet:
  no-manual: some entries show what a screen does without one
  no-example: it is a system for tests of screens
  silent-check: a check that tells nothing must be shown as well
  unreachable: nor need every cause lead somewhere

conditions:
  powered: {title: power is on}
  pressed: {title: the button is pressed}

situations:
  ready: {title: power on, sets: {powered: yes}, cautions: [live]}
  testing: {title: power on and the button pressed, extends: ready, sets: {pressed: yes}, cautions: [dazzle]}

items:
  lamp:
    title: signal lamp
    place: left panel
    manual: SM 33-41
    minutes: 20
    access: [panel]
    cautions: [glass]
  relay: {title: signal relay, place: bay shelf 2, manual: SM 33-42, minutes: 40}
  fuse: {title: signal fuse, place: bay shelf 1, minutes: 5}

causes:
  lamp-broken: {title: signal lamp broken, item: lamp, probability: 0.02}
  relay-open: {title: signal relay stuck open, item: relay, probability: 0.01}
  relay-closed: {title: signal relay welded closed, item: relay, probability: 0.001}
  fuse-blown: {title: signal fuse blown, item: fuse, likelihood: probable}
  wire-broken: {title: signal wire broken, probability: 0.002, minutes: 60, manual: SM 33-49}

signals:
  supply: {title: supply behind the fuse, follows: powered, lost_if: [fuse-blown]}
  feed: {title: voltage at the lamp, follows: supply, lost_if: [relay-open, wire-broken]}
  lit: {title: signal lamp lit, follows: {all: [feed, pressed]}, lost_if: [lamp-broken]}

events:
  two-faults: {title: lamp and relay both bad, all: [lamp-broken, relay-open]}
  relay-silent: {title: relay not clicking, any: [relay-open, fuse-blown]}

access:
  panel: {title: take the left panel off, minutes: 15, cautions: [edges]}

cautions:
  live: {text: The terminals are live., level: warning}
  dazzle: {text: Do not look into the lamp. It dazzles for minutes., level: caution}
  glass: {text: Broken glass cuts., level: caution}
  edges: {text: The edges of the panel are sharp., level: caution}
  probe: {text: Hold the probe by its sleeve., level: note}

checks:
  voltage:
    title: measure the voltage at the lamp
    ask: Is there voltage at the lamp?
    situation: testing
    reads: feed
    minutes: 10
    access: [panel]
    cautions: [probe]
    manual: SM 33-43
    tools: [multimeter]
    note: Press the button during the measurement.
  supply-seen:
    title: look at the supply light
    ask: Is the supply light on?
    situation: ready
    reads: supply
    false_yes: 0.02
    false_no: 0.01
    minutes: 3
  click:
    title: listen to the relay
    ask: What do you hear?
    answers:
      silence: {text: Nothing, when: {any: [relay-open, fuse-blown]}}
      click: {text: One clear click, when: otherwise}
    error: 0.05
    minutes: 3
    by: crew
  bench:
    title: test the relay on the bench
    ask: Does the relay close?
    reads: relay-silent
    yes: It does not close
    no: It closes
    minutes: 45
    by: shop
  weather:
    title: ask about the weather
    ask: Was it raining?
    reads: pressed
    minutes: 1

symptoms:
  dark:
    title: the signal lamp stays dark
    words: [no landing signal, lamp out]
    situation: testing
    sees: {lit: no}
    retest: 5
    manual: SM 33-40
  doubly-bad: {title: lamp and relay are both reported bad, event: two-faults}
  button-lamp: {title: the signal stays dark in the dark, situation: ready, sees: {feed: no}}

examples:
  - title: voltage at the lamp
    symptom: dark
    answers: {voltage: yes}
    expect: {first: lamp-broken, at_least: 0.9, cleared: [relay-open, fuse-blown]}
"""

LOCKED = SIGNAL.replace(
    "edges: {text: The edges of the panel are sharp., level: caution}",
    "edges: {text: Fit the pin of the panel., level: caution, afterwards: take the pin of the panel out}",
).replace("cautions: [edges]}", "cautions: [edges], afterwards: close the left panel}")
"""The same, with an access to close and a pin to take out afterwards."""

DARK = "signal/dark"


@cache
def small() -> Library:
    """The library, loaded once."""
    return load_texts({"signal.yaml": SIGNAL})


def walked(*events: ev.Event, by: tuple[str, ...] | None = None) -> Walk:
    """The state after these events, the case on the dark lamp open and the notice read."""
    walk = start(small(), by)
    for event in (ev.Begin((DARK,)), ev.Acknowledge(), *events):
        walk = step(walk, event).walk
    return walk


def asked(check: str, answer: str) -> tuple[ev.Event, ...]:
    """The events that take up a check, read its cautions where there are any, and answer it."""
    return (ev.TakeUp(check), ev.Acknowledge(), ev.AnswerCheck(answer))
