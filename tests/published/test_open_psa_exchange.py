"""The two example trees of the Open-PSA specification as XML, read, analysed and written again.

Source: Open-PSA Model Exchange Format, fault tree layer (structure, names and probabilities read). The first
example states no probabilities; those of the tests are our own. The exact probability of the second is
computed from its data.
"""

from __future__ import annotations

import math

import pytest

from faultree.library import model
from faultree.library.exchange.open_psa import Options, read_open_psa
from faultree.library.load import load_texts
from faultree.logic.cut_sets import cut_sets
from faultree.logic.derive import fault_tree
from faultree.logic.open_psa import open_psa_text
from tests.oracles.brute import Brute, fault_sets
from tests.oracles.mef import Mef, minimal

HOUSE = """<?xml version="1.0" ?>
<!DOCTYPE opsa-mef>
<opsa-mef>
  <define-fault-tree name="FT1">
    <define-gate name="top"> <or> <gate name="g1"/> <gate name="g2"/> </or> </define-gate>
    <define-gate name="g1">
      <and> <house-event name="h1"/> <gate name="g3"/> <gate name="g4"/> </and>
    </define-gate>
    <define-gate name="g2">
      <and> <not> <house-event name="h1"/> </not> <basic-event name="e2"/> <gate name="g4"/> </and>
    </define-gate>
    <define-gate name="g3"> <or> <basic-event name="e1"/> <basic-event name="e3"/> </or> </define-gate>
    <define-gate name="g4"> <or> <basic-event name="e3"/> <basic-event name="e4"/> </or> </define-gate>
    <define-house-event name="h1"> <constant value="true"/> </define-house-event>
  </define-fault-tree>
</opsa-mef>
"""

COMPONENTS = """<?xml version="1.0" ?>
<!DOCTYPE opsa-mef>
<opsa-mef>
  <define-fault-tree name="FT">
    <define-gate name="TOP"> <or> <gate name="G1"/> <gate name="G2"/> <gate name="G3"/> </or> </define-gate>
    <define-component name="A">
      <define-gate name="G1"> <and> <basic-event name="BE1"/> <basic-event name="BE2"/> </and> </define-gate>
      <define-gate name="G2"> <and> <basic-event name="BE1"/> <basic-event name="BE3"/> </and> </define-gate>
      <define-basic-event name="BE1"> <float value="1.2e-3"/> </define-basic-event>
      <define-component name="B">
        <define-basic-event name="BE2"> <float value="2.4e-3"/> </define-basic-event>
        <define-basic-event name="BE3"> <float value="5.2e-3"/> </define-basic-event>
      </define-component>
    </define-component>
    <define-component name="C">
      <define-gate name="G3"> <and> <basic-event name="BE1"/> <basic-event name="BE4"/> </and> </define-gate>
      <define-basic-event name="BE4"> <float value="1.6e-3"/> </define-basic-event>
    </define-component>
  </define-fault-tree>
</opsa-mef>
"""
PRIVATE = COMPONENTS.replace('name="C"', 'name="C" role="private"').replace('gate name="G3"/', 'gate name="FT.C.G3"/')

CASES = [
    (HOUSE, "top", [{"e3"}, {"e1", "e4"}]),
    (HOUSE.replace("true", "false"), "top", [{"e2", "e3"}, {"e2", "e4"}]),
    (HOUSE.replace(' <constant value="true"/> ', ""), "top", [{"e2", "e3"}, {"e2", "e4"}]),
    (COMPONENTS, "TOP", [{"BE1", "BE2"}, {"BE1", "BE3"}, {"BE1", "BE4"}]),
    (PRIVATE, "TOP", [{"BE1", "BE2"}, {"BE1", "BE3"}, {"BE1", "BE4"}]),
]
NAMES = ["house-true", "house-false", "house-default", "components", "private"]


def _library(text: str) -> model.Library:
    found = read_open_psa(text.encode(), "f.xml", "f", Options(likelihood=0.01))
    assert found.text is not None, found.problems
    return load_texts({"f.yaml": found.text})


def _top(library: model.Library, symptom: str) -> float:
    brute = Brute(library, [symptom])
    return math.fsum(prior for faults, prior in fault_sets(library) if brute.sees(symptom, faults))


@pytest.mark.parametrize(("text", "top", "expected"), CASES, ids=NAMES)
def test_the_cut_sets_of_what_is_read(text: str, top: str, expected: list[set[str]]) -> None:
    library = _library(text)
    assert list(library.symptoms) == [f"f/{top}"]
    assert set(cut_sets(library, top)) == {frozenset(f"f/{name}" for name in one) for one in expected}


@pytest.mark.parametrize(("text", "top", "expected"), CASES, ids=NAMES)
def test_the_cut_sets_of_what_is_written_again(text: str, top: str, expected: list[set[str]]) -> None:
    """By enumeration over the XML that was written, and by what is read back from it."""
    library = _library(text)
    again = open_psa_text(library, fault_tree(library, top)).text
    assert Mef(again).tops == [top]
    assert minimal(Mef(again).producing(top)) == set(map(frozenset, expected))
    back = _library(again)
    assert set(cut_sets(back, top)) == {frozenset(f"f/{name}" for name in one) for one in expected}
    assert _top(back, f"f/{top}") == pytest.approx(_top(library, f"f/{top}"), rel=1e-14)


@pytest.mark.parametrize("text", [COMPONENTS, PRIVATE], ids=["components", "private"])
def test_the_probability_of_the_components_tree(text: str) -> None:
    library = _library(text)
    assert _top(library, "f/TOP") == pytest.approx(1.10104559616e-5, rel=1e-11)
    assert math.fsum(Mef(COMPONENTS).producing("TOP").values()) == pytest.approx(1.10104559616e-5, rel=1e-11)


def test_components_are_kept_beside_their_elements() -> None:
    library = _library(COMPONENTS)
    assert library.causes["f/BE2"].extra == {"x-container": "FT.A.B"}
    assert library.events["f/G3"].extra == {"x-container": "FT.C"}
