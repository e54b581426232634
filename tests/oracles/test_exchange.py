"""Both directions of the exchange of fault trees against plain enumeration, on random libraries and models."""

from __future__ import annotations

import math
import random

import pytest

from faultree.library import model
from faultree.library.exchange.open_psa import Options, read_open_psa
from faultree.library.load import load_texts
from faultree.logic.derive import fault_tree
from faultree.logic.open_psa import open_psa_text
from tests.oracles.brute import Brute, fault_sets
from tests.oracles.mef import Mef, minimal
from tests.oracles.mef_schema import breaches
from tests.oracles.random_libraries import Size, random_library
from tests.oracles.random_models import random_model

HOURS = 30.0
SMALL = Size(files=2, nodes=9, checks=2, symptoms=3, fault_sets=96)


def _imported(text: str) -> model.Library:
    found = read_open_psa(text.encode(), "f.xml", "f", Options(HOURS))
    assert not found.problems, "\n".join(map(str, found.problems))
    assert found.text is not None
    return load_texts({"f.yaml": found.text})


def _producing(library: model.Library, symptom: str) -> dict[frozenset[str], float]:
    """The fault sets with which a symptom is there, with their priors."""
    brute = Brute(library, [symptom])
    return {faults: prior for faults, prior in fault_sets(library) if brute.sees(symptom, faults)}


def _same(one: dict[frozenset[str], float], other: dict[frozenset[str], float]) -> None:
    assert minimal(one) == minimal(other)
    assert math.fsum(one.values()) == pytest.approx(math.fsum(other.values()), rel=1e-12)


@pytest.mark.parametrize("seed", range(40))
def test_a_model_means_what_its_tree_file_means(seed: int) -> None:
    """Every top gate has the cut sets and the probability that the format gives it."""
    text = random_model(random.Random(seed))
    mef = Mef(text, HOURS)
    library = _imported(text)
    assert sorted(library.symptoms) == sorted(f"f/{top}" for top in mef.tops)
    for top in mef.tops:
        named = {frozenset(f"f/{name}" for name in present): share for present, share in mef.producing(top).items()}
        _same(_producing(library, f"f/{top}"), named)


def _ids(mef: Mef) -> dict[str, str]:
    """The name of each basic event by the id of the cause that it stands for."""
    return {
        each.attrib["value"]: name
        for name, one in mef.named("define-basic-event").items()
        for each in one.iter("attribute")
        if each.attrib["name"] == "faultree-id"
    }


@pytest.mark.parametrize("seed", range(40))
def test_a_symptom_keeps_its_meaning_in_both_directions(seed: int) -> None:
    """The model is true for the same fault sets; what is read back has the same cut sets and probability."""
    library = random_library(random.Random(seed), SMALL).library
    for symptom in library.symptoms:
        text = open_psa_text(library, fault_tree(library, symptom)).text
        assert not breaches(text)
        mef = Mef(text)
        names = _ids(mef)
        top = mef.tops[0]
        assert mef.tops == [top]
        brute = Brute(library, [symptom])
        for faults, _ in fault_sets(library):
            present = {names[one] for one in faults if one in names}
            assert mef.true(top, present) == brute.sees(symptom, faults)
        back = _imported(text)
        (again,) = back.symptoms
        assert again == f"f/{top}"
        whole = _producing(library, symptom)
        renamed = {one: f"f/{name}" for one, name in names.items()}
        found = _producing(back, again)
        assert minimal(found) == {frozenset(renamed[one] for one in each) for each in minimal(whole)}
        assert math.fsum(found.values()) == pytest.approx(math.fsum(whole.values()), rel=1e-11)


def test_a_breach_of_the_schema_is_found() -> None:
    """A check that never fails would prove nothing."""
    gate = '<define-gate name="g"><label>x</label><and><gate name="h"/></and></define-gate>'
    good = f'<opsa-mef><define-fault-tree name="F">{gate}</define-fault-tree></opsa-mef>'
    assert not breaches(good)
    for old, new in [
        ('"g"', '"g-"'),
        ('"g"', '"1g"'),
        ("<label>x</label>", ""),
        ('<gate name="h"/>', ""),
        ("<and>", "<and>text"),
        ("and>", "inhibit>"),
        ('<gate name="h"/>', '<gate name="h" min="1"/>'),
        ("opsa-mef", "model"),
    ]:
        assert bool(breaches(good.replace(old, new))) == (new != "" or "gate" in old), new
