"""What a chart says: cautions once and warnings first, manuals once, and items and causes in plain sentences."""

from __future__ import annotations

from faultree.library.load import load_texts
from faultree.strategy.chart import words

TEXT = """
conditions:
  power: {title: Power on}
cautions:
  note: {text: Take a torch., level: note}
  live: {text: Live parts., level: warning}
  edge: {text: Sharp edges., level: caution}
situations:
  on: {title: Power on, sets: {power: yes}, cautions: [live]}
  testing: {title: Testing, extends: on, cautions: [note]}
access:
  panel: {title: Panel, minutes: 4, cautions: [edge]}
items:
  lamp: {title: lamp, manual: M 1, cautions: [edge]}
  relay: {title: relay, access: [panel]}
causes:
  dead: {title: Lamp dead, item: lamp, probability: 0.1, manual: M 2}
  open: {title: Relay open, item: relay, probability: 0.1, manual: M 1}
  wire: {title: wire broken, probability: 0.1}
events:
  dark: {title: Dark, any: [dead, open, wire]}
checks:
  look: {title: Look, ask: Is it lit?, reads: dead, situation: testing, access: [panel], cautions: [note]}
symptoms:
  dark: {title: Dark, situation: on, event: dark}
"""

LIBRARY = load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{TEXT}"})


def test_warnings_stand_first_and_each_caution_once() -> None:
    assert words.check_cautions(LIBRARY, "s/look") == ("s/live", "s/edge", "s/note")


def test_after_a_repair_the_report_is_set_up_again() -> None:
    assert words.repair_cautions(LIBRARY, ["s/lamp"], ["s/dark"]) == ("s/live", "s/edge")


def test_the_cautions_of_the_place_stand_before_what_is_put_right_there() -> None:
    """Opened on the way or not: nobody comes to a step by the same way as the one who printed the page."""
    assert words.repair_cautions(LIBRARY, ["s/relay"], []) == ("s/edge",)


def test_manuals_of_what_is_put_right_and_no_others() -> None:
    assert words.manuals(LIBRARY, ["s/lamp"], ["s/dead", "s/open"]) == ("M 1", "M 2")


def test_items_are_replaced_and_causes_put_right() -> None:
    assert words.put_right(LIBRARY, ["s/lamp", "s/relay"]) == "Replace or repair lamp and relay"
    assert words.put_right(LIBRARY, ["s/lamp", "s/wire"]) == "Replace or repair lamp; put right: wire broken"
    assert words.put_right(LIBRARY, ["s/wire"]) == "Put right: wire broken"
