"""The analysis as one value: its parts speak of the same symptom, and its plain data are the figures themselves."""

from __future__ import annotations

import json
import random
from dataclasses import replace

import pytest

import faultree
from faultree.base.errors import UnknownName
from faultree.belief.importance import importance
from faultree.library.load import load_texts
from faultree.logic.cut_sets import cut_sets
from faultree.strategy.analysis import STAGES, analyse
from faultree.strategy.case import Case
from tests.oracles.random_libraries import SMALL, random_library
from tests.strategy.matrices import PUMP, pump


def test_the_parts_are_those_of_their_own_functions() -> None:
    library = pump()
    found = analyse(library, "no-flow")
    assert found.symptom == "pump/no-flow"
    assert found.cut_sets == cut_sets(library, "no-flow")
    assert found.importance == importance(library, "no-flow")
    assert found.checks.matrix.symptom == "pump/no-flow"


def test_single_faults_are_the_sets_of_one() -> None:
    """The dependency matrix and the cut sets are worked out apart, and agree."""
    for seed in range(40):
        library = random_library(random.Random(seed), SMALL).library
        for symptom in library.symptoms:
            found = analyse(library, symptom)
            assert {frozenset({one}) for one in found.checks.matrix.causes} == {
                one for one in found.cut_sets if len(one) == 1
            }
            assert found.always == (found.cut_sets == (frozenset(),))


def test_limits_cut_the_list_and_not_the_figures() -> None:
    library = pump()
    found = analyse(library, "both", max_order=1)
    assert len(found.cut_sets) == 0
    assert not found.cut_sets.complete
    assert found.importance == importance(library, "both")
    assert found.least_order == 2
    assert analyse(library, "no-flow", least_probability=0.015).cut_sets == (frozenset({"pump/worn"}),)


def test_checks_of_some_people() -> None:
    """In the order crew, line, shop, however they were named."""
    found = analyse(pump(), "no-flow", by=["line", "crew"])
    assert found.by == ("crew", "line")
    assert found.checks.groups == (("pump/worn", "pump/leak"),)
    assert list(found.teams) == [("crew", "line")]


def test_teams_grow_from_the_crew_on() -> None:
    """What the crew can do alone, then with the line, then with the shop; who tells nothing is not named."""
    found = analyse(pump(), "no-flow")
    assert list(found.teams) == [("crew",), ("crew", "line"), ("crew", "line", "shop")]
    assert [len(one.groups) for one in found.teams.values()] == [1, 1, 0]
    no_shop = analyse(pump(("reads: leak, by: shop", "reads: lit, by: shop")), "no-flow")
    assert list(no_shop.teams) == [("crew",), ("crew", "line")]
    assert analyse(pump(), "both").teams == {}


def test_the_figures_given_the_symptom_are_those_of_the_ranking() -> None:
    """Two engines, one answer."""
    library = pump()
    ranked = {one.cause: one.probability for one in Case.open(library, ["no-flow"]).ranking()}
    weighed = {one.cause: one.given for one in analyse(library, "no-flow").importance}
    assert {name: ranked[name] for name in weighed} == pytest.approx(weighed)


MIXED = """
faultree: 1
title: One alone, two together
causes:
  a: {title: A, probability: 0.1}
  b: {title: B, probability: 0.2}
  c: {title: C, probability: 0.3}
events:
  top: {title: T, any: [a, {all: [b, c]}]}
symptoms:
  seen: {title: T is seen, event: top}
"""


def test_the_share_of_single_faults() -> None:
    """0.1 of 0.1 + 0.9 x 0.06; all of it where every set is a single fault; nothing where none is."""
    assert analyse(load_texts({"s.yaml": MIXED}), "seen").single_share == pytest.approx(0.1 / 0.154)
    assert analyse(pump(), "no-flow").single_share == pytest.approx(1.0)
    assert analyse(pump(), "both").single_share == 0.0


def test_the_share_of_single_faults_keeps_the_digits_of_tiny_probabilities() -> None:
    """Of 1e-17 and two of 4e-9 that act together it is 0.38; 1 - (1 - 1e-17) would be nothing."""
    tiny = MIXED.replace("0.1}", "1e-17}").replace("0.2}", "4e-9}").replace("0.3}", "4e-9}")
    share = analyse(load_texts({"s.yaml": tiny}), "seen").single_share
    assert share == pytest.approx(1e-17 / (1e-17 + 1.6e-17), rel=1e-6)


def test_each_stage_is_told_of() -> None:
    said: list[str] = []
    analyse(pump(), "no-flow", tell=said.append)
    assert len(said) == len(set(said)) == STAGES


def test_plain_data() -> None:
    """`probability` where it is exact; lists of ids; the names of the Python values; nothing that JSON has not."""
    found = analyse(pump(), "no-flow", by=["crew", "line"])
    data = json.loads(json.dumps(found.to_dict(), allow_nan=False))
    assert data["exact"] is True
    assert data["probability"] == found.importance.lower
    assert "lower" not in data
    assert data["cut_sets"] == [["pump/worn"], ["pump/seized"], ["pump/leak"], ["pump/low"]]
    assert data["groups"] == [["pump/worn", "pump/leak"]]
    assert data["detected"] == pytest.approx(0.8)
    assert data["isolated"] == {"1": pytest.approx(0.25), "2": 1.0, "3": 1.0}
    assert [one["cause"] for one in data["importance"]] == [one.cause for one in found.importance]
    assert data["by"] == ["crew", "line"]


def test_a_reduction_worth_without_end_is_null() -> None:
    """Infinity is no number of JSON: the symptom cannot come without this cause."""
    data = analyse(pump(), "both").to_dict()
    assert [one["reduction"] for one in json.loads(json.dumps(data, allow_nan=False))["importance"]] == [None, None]


def test_bounds_stand_in_place_of_a_probability_that_is_not_exact() -> None:
    found = analyse(pump(), "no-flow")
    bounded = replace(found, importance=replace(found.importance, lower=0.04, upper=0.06)).to_dict()
    assert bounded["exact"] is False
    assert (bounded["lower"], bounded["upper"]) == (0.04, 0.06)
    assert "probability" not in bounded


def test_a_symptom_that_is_not_there() -> None:
    with pytest.raises(UnknownName):
        analyse(pump(), "no-flood")


def test_the_face_answers_the_same() -> None:
    library = faultree.load_texts({"pump.yaml": PUMP})
    found = library.analysis("no-flow", by=["crew", "line"], max_order=3, least_probability=1e-9)
    assert found.to_dict() == analyse(load_texts({"pump.yaml": PUMP}), "no-flow", ["crew", "line"]).to_dict()
