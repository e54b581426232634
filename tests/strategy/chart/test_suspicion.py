"""Which fault sets are charted: those that hold nothing superfluous, with their weights, and what is left out."""

from __future__ import annotations

import random
from math import fsum, isfinite

import pytest

from faultree.belief.frame import frame_of
from faultree.belief.posterior import Posterior
from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.strategy.chart.suspicion import Reports, Suspicion, suspicion_of
from tests.oracles.brute import Brute
from tests.oracles.random_libraries import SMALL, random_library

CAUSES = """
conditions:
  asked: {title: Somebody asked, usually: yes}
causes:
  a: {title: A, probability: 0.1}
  b: {title: B, probability: 0.2}
  c: {title: C, probability: 0.05}
  d: {title: D, probability: 0.3}
events:
  top: {title: Top, any: [a, both]}
  both: {title: Both, all: [b, c]}
checks:
  look: {title: Look, ask: Is it so?, reads: both}
symptoms:
  top: {title: Top, event: top}
  perhaps: {title: Perhaps top, event: top, false_report: 0.1}
  nothing: {title: Somebody asked, event: asked}
"""


def library() -> Library:
    return load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{CAUSES}"})


def suspected(one: Library, *symptoms: str, rare: float = 1e-4) -> Suspicion:
    return suspicion_of(Reports(Posterior(frame_of(one), symptoms, ())), rare)


def chances(suspicion: Suspicion) -> dict[str, float]:
    names = ["".join(sorted(cause.removeprefix("s/") for cause in one)) for one in suspicion.sets]
    return dict(zip(names, suspicion.chances, strict=True))


def test_minimal_sets_by_their_own_weight() -> None:
    """{a} weighs .1 x .8 x .95 and {b, c} .9 x .2 x .05 (d, good or not, has no part in it)."""
    a, bc = 0.1 * 0.8 * 0.95, 0.9 * 0.2 * 0.05
    found = suspected(library(), "s/top")
    assert chances(found) == pytest.approx({"a": a / (a + bc), "bc": bc / (a + bc)})
    assert found.left_out == pytest.approx(0.0, abs=1e-12)


def test_a_report_that_may_be_false_suspects_nothing_too() -> None:
    """The sets that show it are weighed with 1, and "nothing is wrong" with .1."""
    a, bc, none = 0.1 * 0.8 * 0.95, 0.9 * 0.2 * 0.05, 0.1 * 0.9 * 0.8 * 0.95
    total = a + bc + none
    expected = {"a": a / total, "bc": bc / total, "": none / total}
    assert chances(suspected(library(), "s/perhaps")) == pytest.approx(expected)


def test_a_routine_look_suspects_nothing_and_every_single_cause() -> None:
    assert set(chances(suspected(library(), "s/nothing"))) == {"", "a", "b", "c", "d"}


def test_rare_sets_are_left_out_and_said_to_be() -> None:
    """P(b and c, not a / top), exactly: what the chart then leaves out."""
    found = suspected(library(), "s/top", rare=0.2)
    top = 1.0 - 0.9 * (1.0 - 0.2 * 0.05)
    assert set(chances(found)) == {"a"}
    assert found.left_out == pytest.approx(0.9 * 0.2 * 0.05 / top)


@pytest.mark.parametrize("seed", range(25))
def test_what_is_left_out_is_bounded(seed: int) -> None:
    """P(the true set includes none of the charted ones / reports) by enumeration, on random libraries."""
    one = random_library(random.Random(seed), SMALL).library
    for symptom in one.symptoms:
        reports = Reports(Posterior(frame_of(one), (symptom,), ()))
        if not isfinite(reports.log_z):
            continue
        found = suspicion_of(reports, rare=0.05)
        brute = Brute(one, [symptom])
        missed = fsum(share for faults, share in brute.posterior() if not any(kept <= faults for kept in found.sets))
        assert missed <= found.left_out + 1e-9
        weights = dict(brute.posterior())
        total = fsum(weights[kept] for kept in found.sets)
        assert found.chances == pytest.approx([weights[kept] / total for kept in found.sets])
