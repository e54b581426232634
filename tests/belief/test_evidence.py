"""Evidence: what each report, reply and repair says about which node, in which world."""

from __future__ import annotations

import pytest

from faultree.belief.evidence import Reading, Repair, Reply, Step, points_of, readings_of, repaired_by
from faultree.belief.frame import Frame
from faultree.library.model import refs
from faultree.logic.graph import negate
from tests.belief.small import node, pump_frame

FRAME = pump_frame()


def read(steps: list[Step], symptoms: tuple[str, ...] = ("s/still",)) -> tuple[Reading, ...]:
    """What the steps say, the reports left out."""
    return readings_of(FRAME, symptoms, steps)[len(symptoms) :]


def chances(frame: Frame, step: Step) -> tuple[float, float]:
    """P(what the step showed / its point is false) and P(... / it is true)."""
    (reading,) = readings_of(frame, ("s/still",), [step])[1:]
    return reading.off, reading.on


def test_a_report_is_taken_as_true() -> None:
    """It weighs 1 where all that it says holds, and 0 where it does not."""
    (report,) = readings_of(FRAME, ("s/still",), [])
    moves = node(FRAME, "moves", "ready")
    assert report == Reading(moves._replace(literal=negate(moves.literal)), 0.0, 1.0, None)


def test_a_report_that_may_be_false_leaves_a_chance() -> None:
    """With `false_report: p` what does not hold is reported with probability p."""
    (report,) = readings_of(FRAME, ("s/no-reading",), [])
    assert (report.off, report.on) == (0.02, 1.0)


def test_reports_come_first_then_the_steps_in_their_order() -> None:
    steps: list[Step] = [Reply("s/feel", "no"), Repair("s/leak", gone=False), Reply("s/read", "no")]
    readings = readings_of(FRAME, ("s/still", "s/no-reading"), steps)
    assert [one.step for one in readings] == [None, None, steps[0], steps[1], steps[1], steps[2]]


def test_a_perfect_check_says_the_node_itself() -> None:
    """`yes` where the node is true, `no` where it is not; nothing is left of the other."""
    (yes,) = read([Reply("s/feel", "yes")])
    (no,) = read([Reply("s/feel", "no")])
    pressure = node(FRAME, "pressure")
    assert yes[:3] == (pressure, 0.0, 1.0)
    assert no[:3] == (pressure._replace(literal=negate(pressure.literal)), 0.0, 1.0)


def test_an_imperfect_check_may_be_wrong_either_way() -> None:
    """`false_yes` is P(yes / node false), `false_no` P(no / node true)."""
    assert chances(FRAME, Reply("s/read", "yes")) == pytest.approx((0.05, 0.90))
    assert chances(FRAME, Reply("s/read", "no")) == pytest.approx((0.10, 0.95))  # the point is "not shown"


@pytest.mark.parametrize("answer", ["nothing", "rattle", "hum"])
def test_a_wrong_answer_of_several_is_spread_evenly(answer: str) -> None:
    """`error` 0.2 over three answers: 0.8 for the right one, 0.1 for each of the others."""
    assert chances(FRAME, Reply("s/listen", answer)) == pytest.approx((0.1, 0.8))


def test_the_point_of_a_reply_is_the_answer_given() -> None:
    points = points_of(FRAME, "s/listen", frozenset())
    names = [one.id for one in FRAME.library.checks["s/listen"].answers]
    for name, point in zip(names, points, strict=True):
        (reading,) = read([Reply("s/listen", name)])
        assert reading.point == point


def test_cannot_tell_says_nothing() -> None:
    assert read([Reply("s/feel", None)]) == ()


def test_a_check_is_read_in_its_own_situation() -> None:
    (dark,) = read([Reply("s/read-dark", "yes")])
    assert dark.point == node(FRAME, "shown", "dark")
    (ready,) = read([Reply("s/try", "yes")])
    assert ready.point == node(FRAME, "moves", "ready")


@pytest.mark.parametrize(("gone", "off", "on"), [(False, 0.0, 1.0), (True, 1.0, 0.0)])
def test_after_a_repair_every_report_is_looked_at_again(gone: bool, off: float, on: float) -> None:
    """Not gone: every report still holds; gone: none does. The unit is good in that look."""
    readings = read([Repair("s/pump", gone=gone)], ("s/still", "s/no-reading"))
    worlds = [node(FRAME, "moves", "ready", "pump").world, node(FRAME, "shown", None, "pump").world]
    assert [one.point.world for one in readings] == worlds
    assert [one.point.literal for one in readings] == [FRAME.seen["s/still"], FRAME.seen["s/no-reading"]]
    assert {(one.off, one.on) for one in readings} == {(off, on)}


def test_a_repair_whose_effect_is_not_known_says_nothing_but_makes_the_unit_good() -> None:
    """A fault that comes and goes may be away by itself: only what is read later is read with the good unit."""
    (after,) = read([Repair("s/pump", gone=None), Reply("s/read", "no")])
    assert FRAME.worlds[after.point.world].repaired == {FRAME.prior.index["s/pump"]}


def test_a_check_after_a_repair_sees_the_unit_good() -> None:
    """What was answered before the repair still speaks of the unit as it was."""
    before, _, after = read([Reply("s/feel", "no"), Repair("s/pump", gone=False), Reply("s/read", "no")])
    assert FRAME.worlds[before.point.world].repaired == frozenset()
    assert FRAME.worlds[after.point.world].repaired == {FRAME.prior.index["s/pump"]}


def test_repairs_add_up() -> None:
    steps: list[Step] = [Repair("s/pump", gone=False), Reply("s/feel", None), Repair("s/leak", gone=True)]
    assert repaired_by(FRAME, steps) == {FRAME.prior.index["s/pump"], FRAME.prior.index["s/leak"]}
    last = readings_of(FRAME, ("s/still",), steps)[-1]
    assert FRAME.worlds[last.point.world].repaired == repaired_by(FRAME, steps)


def test_points_of_a_check_are_in_the_authors_order() -> None:
    """Yes before no; several answers as they are written."""
    yes, no = points_of(FRAME, "s/feel", frozenset())
    assert yes == node(FRAME, "pressure")
    assert no.literal == negate(yes.literal)
    listed = FRAME.library.checks["s/listen"].answers
    assert [list(map(str, refs(one.when)))[:1] != [] for one in listed] == [True, True, True]
    nothing, rattle, hum = points_of(FRAME, "s/listen", frozenset())
    assert nothing == node(FRAME, "seized")
    assert len({nothing, rattle, hum}) == 3
