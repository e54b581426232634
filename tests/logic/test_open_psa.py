"""A derived tree in the exchange format: names, titles, formulas, likelihoods, and what other programs should know."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from faultree.base.errors import FaultreeError
from faultree.library import model
from faultree.library.exchange.mef_names import is_name
from faultree.library.exchange.open_psa import read_open_psa
from faultree.library.load import load, load_texts
from faultree.logic.derive import fault_tree
from faultree.logic.open_psa import NOTICE, open_psa_text
from tests.house.source import ROOT
from tests.oracles.mef import Mef
from tests.oracles.mef_schema import breaches

DOOR = """
faultree: 1
title: Door
conditions:
  pressed: {title: button pressed}
  locked: {title: door locked}
situations:
  closing: {title: button held, sets: {pressed: yes}}
items:
  motor: {title: the motor, place: bay, manual: M 1, minutes: 25}
causes:
  fuse--blown:
    title: fuse blown
    probability: 0.1
    manual: M 2
    x-attributes: {maker: X & Co, size: {value: 3, type: int}}
  motor-dead: {title: motor dead, item: motor, likelihood: remote}
  motor-weak: {title: motor weak, item: motor, rate: 1e-5, hours: 600}
  a: {title: A, probability: 0.2}
  b: {title: B, probability: 0.3}
  c: {title: C, probability: 0.4, x-name: Ölpumpe}
signals:
  voltage: {title: voltage at the motor, follows: pressed, lost_if: [fuse--blown]}
  outside: {title: outside supply, undeveloped: yes}
  running:
    title: door running
    follows: {all: [voltage, outside, {at_least: {count: 2, of: [{not: a}, {not: b}, {not: c}]}}]}
    lost_if: [motor-dead, motor-weak, {one_of: [a, b, c]}, {none: [a, b, locked]}]
symptoms:
  stands--still: {title: the door stands still, situation: closing, sees: {running: no}}
  locked: {title: the door is locked, sees: {locked: yes}}
  never: {title: it opens and does not, sees: {voltage: yes, running: yes}, situation: closing}
"""


def _library(text: str = DOOR) -> model.Library:
    return load_texts({"door.yaml": text})


def _text(symptom: str, library: model.Library | None = None) -> str:
    library = library or _library()
    return open_psa_text(library, fault_tree(library, symptom)).text


def _attributes(text: str, name: str) -> dict[str, str]:
    (element,) = [
        one for one in ElementTree.fromstring(text).iter() if one.get("name") == name and one.tag[:6] == "define"
    ]
    return {one.attrib["name"]: one.attrib["value"] for one in element.findall("./attributes/attribute")}


def test_names_are_legal_and_distinct_and_the_top_has_that_of_the_symptom() -> None:
    text = _text("stands--still")
    names = re.findall('<define-(?:gate|house-event|basic-event) name="([^"]*)"', text)
    assert len(names) == len(set(names))
    assert all(map(is_name, names))
    assert Mef(text).tops == ["stands-still"]
    assert {"fuse-blown", "Ölpumpe", "motor-dead"} <= set(names)


def test_titles_ids_and_fields_are_labels_and_attributes() -> None:
    text = _text("stands--still")
    assert _attributes(text, "motor-weak") == {
        "faultree-id": "door/motor-weak",
        "faultree-item": "motor",
        "faultree-item-title": "the motor",
        "faultree-item-place": "bay",
        "faultree-item-manual": "M 1",
        "faultree-item-minutes": "25",
    }
    assert _attributes(text, "motor-dead")["faultree-likelihood"] == "remote"
    assert _attributes(text, "fuse-blown") == {
        "faultree-id": "door/fuse--blown",
        "faultree-manual": "M 2",
        "faultree-minutes": "30",
        "maker": "X & Co",
        "size": "3",
    }
    assert '<attribute name="size" value="3" type="int" />' in text
    assert _attributes(text, "outside")["faultree-kind"] == "undeveloped"
    assert f'value="{NOTICE}"' in text
    assert "<label>the door stands still</label>" in text
    assert '<attribute name="faultree-situation" value="button held" />' in text


def test_likelihoods_are_written_as_they_were_stated() -> None:
    text = _text("stands--still")
    bodies = {
        name: [child.tag for child in one if child.tag not in ("label", "attributes")]
        for name, one in Mef(text).named("define-basic-event").items()
    }
    assert bodies["motor-weak"] == ["exponential"]
    assert bodies["motor-dead"] == ["float"]
    assert '<float value="1e-05" />' in text
    assert Mef(text).probabilities["motor-dead"] == 0.001


def test_exactly_one_is_a_cardinality_and_none_is_a_negated_or() -> None:
    """`xor` is parity, and `nor` of more than two is read in two ways."""
    text = _text("stands--still")
    assert '<cardinality min="1" max="1">' in text
    assert '<atleast min="2">' in text
    assert "<xor" not in text
    assert "<nor" not in text


def test_a_symptom_that_is_always_or_never_there_is_a_constant() -> None:
    never = load_texts(
        {"s.yaml": "faultree: 1\ntitle: T\nsignals:\n  s: {title: S}\nsymptoms:\n  n: {title: N, sees: {s: no}}"}
    )
    text = open_psa_text(never, fault_tree(never, "n")).text
    assert '<constant value="false" />' in text
    assert not read_open_psa(text.encode(), "f.xml", "f").problems
    assert Mef(text).true("n", ()) is False


def test_notes_tell_what_is_different_there() -> None:
    library = _library()
    notes = open_psa_text(library, fault_tree(library, "stands--still")).notes
    assert [note[:38] for note in notes] == [
        "The faults of one item exclude each ot",
        "What is left undeveloped is a house ev",
        "A fault tree has no checks: they, acce",
    ]
    assert "the motor" in notes[0]


def test_two_files_with_the_same_short_ids_stay_apart() -> None:
    one = "faultree: 1\ntitle: One\ncauses:\n  dead: {title: one dead, probability: 0.1}\n"
    two = (
        "faultree: 1\ntitle: Two\nitems:\n  box: {title: Box}\ncauses:\n  dead: {title: two dead, probability: 0.2}\n"
        "events:\n  both: {title: both, all: [dead, one/dead]}\nsymptoms:\n  dead: {title: D, event: both}\n"
    )
    library = load_texts({"one.yaml": one, "two.yaml": two})
    text = open_psa_text(library, fault_tree(library, "dead")).text
    assert sorted(Mef(text).probabilities) == ["one_dead", "two_dead"]
    assert Mef(text).tops == ["dead"]


def test_what_xml_cannot_hold_is_refused_by_name() -> None:
    text = DOOR.replace("X & Co", r'"\u0001"')
    with pytest.raises(FaultreeError, match="the attribute 'maker' holds a character that no XML file can hold"):
        _text("stands--still", _library(text))


def test_the_whole_demonstration_library_follows_the_schema() -> None:
    library = load(ROOT / "trees")
    for symptom in library.symptoms:
        assert not breaches(open_psa_text(library, fault_tree(library, symptom)).text), symptom


def test_the_demonstration_library_goes_out_and_in_again_the_same() -> None:
    """A second round writes what the first one wrote, but for what says where it came from."""
    library = load(ROOT / "trees")
    for symptom in [*library.symptoms][::4]:
        first = open_psa_text(library, fault_tree(library, symptom)).text
        found = read_open_psa(first.encode(), "f.xml", "f")
        assert found.text is not None, found.problems
        back = load_texts({"f.yaml": found.text})
        second = open_psa_text(back, fault_tree(back, symptom.partition("/")[2])).text
        assert Mef(second).probabilities == Mef(first).probabilities
        assert set(Mef(second).gates) - {one for one in Mef(second).gates if one.startswith("gate-")} <= set(
            Mef(first).gates
        )
        labels = {one.text for one in ElementTree.fromstring(first).iter("label")}
        assert {one.text for one in ElementTree.fromstring(second).iter("label")} <= labels
