"""The posterior of a case: what follows from its reports and steps, by hand on a small system."""

from __future__ import annotations

from math import exp, inf, log

import pytest

from faultree.belief.engine import Given, Limits
from faultree.belief.evidence import Repair, Reply, Step, points_of
from faultree.belief.frame import frame_of
from faultree.belief.plan import even
from faultree.belief.posterior import Posterior, Suspect, reach
from tests.belief.engines import narrow
from tests.belief.small import library, node, pump_frame

FRAME = pump_frame()
NARROW = narrow(
    FRAME,
    [even(node(FRAME, "moves", "ready"))[0]],
    [even(point)[0] for check in FRAME.library.checks for point in points_of(FRAME, check, frozenset())],
)
"""Too narrow for the report and all checks at once, wide enough for each situation."""

NOT_MOVING = 1.0 - 0.85 * 0.8 * 0.7
"""P(it does not move): the pump (0.15), the pipe (0.2) or the valve (0.3) is bad."""


def posterior(*steps: Step, symptoms: tuple[str, ...] = ("s/still",), limits: Limits = Limits()) -> Posterior:
    return Posterior(FRAME, symptoms, steps, limits)


def probabilities(found: Posterior) -> dict[str, float]:
    return {suspect.cause.partition("/")[2]: suspect.probability for suspect in found.ranking()}


def implicated(found: Posterior) -> set[str]:
    return {FRAME.prior.roots[root].unit.partition("/")[2] for root in found.implicated}


def index(unit: str) -> int:
    return FRAME.prior.index[f"s/{unit}"]


def test_a_report_divides_the_priors_by_its_probability() -> None:
    """Each of these causes is enough for the report, so P(cause / report) = P(cause) / P(report)."""
    found = probabilities(posterior())
    assert found == pytest.approx(
        {
            "worn": 0.10 / NOT_MOVING,
            "seized": 0.05 / NOT_MOVING,
            "leak": 0.20 / NOT_MOVING,
            "valve": 0.30 / NOT_MOVING,
            "low": 0.04,
            "high": 0.02,
        },
        abs=1e-12,
    )
    assert exp(float(posterior().result.log_z)) == pytest.approx(NOT_MOVING, abs=1e-12)


def test_an_answer_can_exclude() -> None:
    """Pressure is there: only the valve is left."""
    found = probabilities(posterior(Reply("s/feel", "yes")))
    assert found == pytest.approx({"worn": 0, "seized": 0, "leak": 0, "valve": 1, "low": 0.04, "high": 0.02}, abs=1e-12)


def test_a_noisy_answer_shifts() -> None:
    """Nothing is shown where there is no pressure (but not with a gauge stuck high) or where the gauge reads low.

    That is read as `no` with 0.95, and pressure that is shown is missed with 0.10.
    """
    found = posterior(Reply("s/read", "no"))
    no_pressure = 1.0 - 0.85 * 0.8
    lost = no_pressure * (0.98 * 0.95 + 0.02 * 0.10)
    kept = (1.0 - no_pressure) * 0.3 * (0.04 * 0.95 + 0.96 * 0.10)
    assert exp(float(found.result.log_z)) == pytest.approx(lost + kept, abs=1e-12)
    worn = 0.10 * (0.98 * 0.95 + 0.02 * 0.10) / (lost + kept)
    assert probabilities(found)["worn"] == pytest.approx(worn, abs=1e-12)


def test_the_ranking_is_by_probability_and_equal_causes_stay_in_order() -> None:
    """Equal causes in the order of the files, those of one item together."""
    ranking = posterior(Reply("s/feel", "yes")).ranking()
    assert [one.cause for one in ranking] == ["s/valve", "s/low", "s/high", "s/worn", "s/seized", "s/leak"]
    assert ranking[0]._replace(probability=1.0) == Suspect("s/valve", None, 1.0, 0.3, implicated=True)
    assert ranking[1]._replace(probability=0.04) == Suspect("s/low", "s/gauge", 0.04, 0.04, implicated=False)


def test_the_evidence_reaches_what_can_change_it() -> None:
    """In the situation in which it was seen: without power, the gauge's reading says nothing of the pump."""
    assert implicated(posterior()) == {"pump", "leak", "valve"}
    assert implicated(posterior(symptoms=("s/no-reading",))) == {"pump", "leak", "gauge"}
    assert implicated(posterior(Reply("s/read-dark", "no"))) == {"pump", "leak", "valve", "gauge"}
    assert implicated(posterior(Reply("s/read-dark", None))) == {"pump", "leak", "valve"}
    assert {FRAME.prior.roots[root].unit for root in reach(FRAME, node(FRAME, "shown", "dark"))} == {"s/gauge"}


def test_a_repaired_unit_is_no_suspect() -> None:
    """Its causes have probability 0 from then on; what was reported before still tells of the others."""
    found = posterior(Repair("s/valve", gone=False))
    left = 1.0 - 0.85 * 0.8
    assert probabilities(found) == pytest.approx(
        {"worn": 0.10 / left, "seized": 0.05 / left, "leak": 0.20 / left, "valve": 0, "low": 0.04, "high": 0.02},
        abs=1e-12,
    )


def test_a_report_that_went_with_the_repair_leaves_the_rest_good() -> None:
    found = probabilities(posterior(Repair("s/valve", gone=True)))
    assert found == pytest.approx({"worn": 0, "seized": 0, "leak": 0, "valve": 0, "low": 0.04, "high": 0.02}, abs=1e-12)


def test_a_unit_is_at_fault_with_one_of_its_causes() -> None:
    assert posterior().unit_probability(index("pump")) == pytest.approx(0.15 / NOT_MOVING, abs=1e-12)
    assert posterior().unit_probability(index("gauge")) == pytest.approx(0.06, abs=1e-12)


def test_putting_a_unit_right_clears_the_report_only_where_nothing_else_is_wrong() -> None:
    """P(it moves once the unit is good / report): the unit was bad, and the other two are good."""
    found = posterior()
    assert found.clears(index("pump")) == pytest.approx(0.15 * 0.8 * 0.7 / NOT_MOVING, abs=1e-12)
    assert found.clears(index("leak")) == pytest.approx(0.85 * 0.2 * 0.7 / NOT_MOVING, abs=1e-12)
    assert found.clears(index("valve")) == pytest.approx(0.85 * 0.8 * 0.3 / NOT_MOVING, abs=1e-12)
    assert found.clears(index("gauge")) == pytest.approx(0.0, abs=1e-12)
    for root in range(4):
        assert found.clears(root) <= found.unit_probability(root) + 1e-12


def test_clearing_after_a_repair_counts_that_repair() -> None:
    """With the valve good already, the report goes with the pump unless the pipe leaks too."""
    found = posterior(Repair("s/valve", gone=False))
    assert found.clears(index("pump")) == pytest.approx(0.15 * 0.8 / (1.0 - 0.85 * 0.8), abs=1e-12)


def test_clearing_means_every_report() -> None:
    """Without pressure shown and without movement: of the two only the pump or the pipe explains both."""
    found = posterior(symptoms=("s/still", "s/odd"))
    assert found.clears(index("gauge")) == pytest.approx(0.0, abs=1e-12)
    one_of_two = Posterior(FRAME, ("s/still",), ()).clears(index("valve"))
    both = posterior(symptoms=("s/still", "s/no-reading")).clears(index("valve"))
    assert both < one_of_two


def test_some_of_the_steps_can_be_left_out_of_the_weight() -> None:
    """The reports stay, and so do the repairs as such; only what was seen is left out."""
    yes, again = Reply("s/feel", "yes"), Repair("s/pump", gone=False)
    found = posterior(yes, again)
    assert exp(found.log_z_of([])) == pytest.approx(NOT_MOVING, abs=1e-12)
    assert exp(found.log_z_of([yes])) == pytest.approx(0.85 * 0.8 * 0.3, abs=1e-12)
    assert exp(found.log_z_of([again])) == pytest.approx(1.0 - 0.8 * 0.7, abs=1e-12)
    assert found.log_z_of([yes, again]) == pytest.approx(float(found.result.log_z), abs=1e-12)


def test_what_nothing_explains_is_impossible() -> None:
    assert posterior(Reply("s/feel", "yes")).possible
    impossible = posterior(Reply("s/try", "yes"))
    assert not impossible.possible
    assert float(impossible.result.log_z) == -inf


def test_exact_results_have_no_bound_and_others_say_theirs() -> None:
    assert posterior().bound == 0.0
    assert 0.0 < posterior(limits=Limits(cells=2)).bound < 1.0


@pytest.mark.parametrize("limits", [Limits(), NARROW])
def test_every_answer_of_every_check_has_its_probability(limits: Limits) -> None:
    """P(answer would be right / report), in one engine or in one for each situation."""
    found = posterior(limits=limits)
    pressure = 0.85 * 0.8 * 0.3 / NOT_MOVING
    chances = {name: [found.probability(point) for point in points] for name, points in found.check_points.items()}
    assert chances["s/feel"] == pytest.approx([pressure, 1.0 - pressure], abs=1e-12)
    assert chances["s/read"][0] == pytest.approx(pressure * 0.96 + (1.0 - pressure) * 0.02, abs=1e-12)
    assert chances["s/read-dark"] == pytest.approx([0.02, 0.98], abs=1e-12)
    assert chances["s/try"] == pytest.approx([0.0, 1.0], abs=1e-12)
    assert chances["s/listen"][0] == pytest.approx(0.05 / NOT_MOVING, abs=1e-12)
    assert sum(chances["s/listen"]) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("limits", [Limits(), NARROW])
def test_what_a_cause_would_make_of_a_check(limits: Limits) -> None:
    """P(answer right / cause present, report): a worn pump gives no pressure; with the valve stuck both are open."""
    found = posterior(limits=limits)
    yes, no = found.predicted("s/feel", ["s/worn", "s/valve"])
    assert yes == pytest.approx([0.0, 0.85 * 0.8], abs=1e-12)
    assert no == pytest.approx([1.0, 1.0 - 0.85 * 0.8], abs=1e-12)
    assert found.predicted("s/feel", []) == [[], []]


def test_a_cause_can_be_supposed() -> None:
    """Its unit has that value and no other."""
    found = posterior()
    seized = found.present("s/seized")
    assert seized == Given(index("pump"), (0.0, 0.0, 1.0))
    assert exp(found.log_z_given(seized)) == pytest.approx(0.05, abs=1e-12)
    weight, causes = found.best_given(seized)
    assert causes == {"s/seized"}
    assert weight == pytest.approx(log(0.05 * 0.8 * 0.94 * 0.7), abs=1e-12)


def test_whether_a_supposed_cause_allows_another_answer() -> None:
    found = posterior(Reply("s/feel", "yes"))
    assert found.allows(Reply("s/feel", "yes"), "no", found.present("s/worn"))
    assert not found.allows(Reply("s/feel", "no"), "yes", found.present("s/worn"))


def test_a_case_compiles_once() -> None:
    """Without repairs one engine serves the reports, whatever is answered and in whatever order."""
    first = posterior()
    later = posterior(Reply("s/read", "no"), Reply("s/feel", "no"))
    assert later.plan is first.plan
    assert later.core is first.core
    assert posterior(symptoms=("s/no-reading",)).plan is not first.plan


def test_an_unneeded_unit_keeps_its_prior_whatever_is_seen() -> None:
    """Causes outside the cone of the evidence are no news."""
    for suspect in posterior(Reply("s/feel", "no"), Repair("s/valve", gone=False)).ranking():
        if not suspect.implicated:
            assert suspect.probability == pytest.approx(suspect.prior, abs=1e-12)


def test_a_report_seen_with_nothing_wrong_tells_nothing() -> None:
    frame = frame_of(
        library(
            """
causes:
  a: {title: A, probability: 0.25}
signals:
  always: {title: Nothing takes it away}
symptoms:
  there: {title: It is there, sees: {always: yes}}
"""
        )
    )
    found = Posterior(frame, ("s/there",), ())
    assert found.possible
    assert found.implicated == frozenset()
    assert found.ranking() == (Suspect("s/a", None, 0.25, 0.25, False),)
