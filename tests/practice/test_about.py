"""What a trainee can look up: where a part is, what it acts on and what that needs; never how likely anything is."""

from __future__ import annotations

from faultree.library.load import load_texts
from faultree.practice.about import About, about, about_system, about_unit
from tests.practice.small import GATE, gate
from tests.walk.small import small


def test_a_system_says_what_each_of_its_signals_needs() -> None:
    found = about_system(gate(), "g")
    assert found.title == "Gate of a fictional pond"
    assert found.lines == (("Pressure", "The motor turns"), ("The gate moves", "Pressure"))


def test_a_part_says_what_it_acts_on_and_where_that_leads() -> None:
    found = about_unit(gate(), "g/pump")
    assert found.lines == (
        ("Acts on", "Pressure"),
        ("", "which needs The motor turns"),
        ("", "and leads to: The gate moves"),
    )
    lamp = dict(about_unit(small(), "signal/lamp").lines)
    assert lamp["Where"] == small().items["signal/lamp"].place


def test_words_mean_the_reported_system_another_one_or_a_part() -> None:
    library = gate()
    first = about(library, "g/still", "")
    assert isinstance(first, About)
    assert first.title == "Gate of a fictional pond"
    assert "about g shows how it works" in first.lines[0][1]
    assert about(library, "g/still", "g") == about_system(library, "g")
    assert about(library, "g/still", "fictional pond") == about_system(library, "g")
    assert about(library, "g/still", "motor") == about_unit(library, "g/motor")
    assert about(library, "g/still", "wombat") == ()
    assert about(load_texts({"g.yaml": GATE.replace("title: Motor,", "title: Pump motor,")}), "g/still", "pu") == (
        "Pump",
        "Pump motor",
    )


def test_gates_are_told_in_words() -> None:
    text = """
faultree: 1
title: Lamps
causes: {a: {title: A, probability: 0.1}, b: {title: B, probability: 0.1}, c: {title: C, probability: 0.1}}
signals:
  left: {title: left lamp}
  right: {title: right lamp}
  both: {title: lit, follows: {all: [left, {not: right}]}}
events: {two: {title: two of three, at_least: {count: 2, of: [a, b, {any: [b, c]}]}}}
"""
    lines = dict(about_system(load_texts({"l.yaml": text}), "l").lines)
    assert lines["lit"] == "all of: left lamp and not right lamp"
    assert lines["two of three"] == "at least 2 of: A, B and (one of: B and C)"
