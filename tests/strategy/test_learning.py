"""Learning from history: worked examples, censored findings, and whether it helps on data it has not seen."""

from __future__ import annotations

from math import log
from random import Random

import pytest

from faultree.base.errors import FaultreeError
from faultree.library.load import load_texts
from faultree.strategy.case import Case
from faultree.strategy.learning import Finding, learn, rate, updated

PI = [0.5, 0.3, 0.15, 0.05]


def confirmed(*counts: int) -> list[list[float]]:
    return [[float(one == place) for one in range(4)] for place, count in enumerate(counts) for _ in range(count)]


def test_shares_by_hand() -> None:
    """Worked by hand: (10 x .5 + 6) / 26 = .423, (3 + 9) / 26 = .462, (1.5 + 1) / 26 = .096, .5 / 26 = .019."""
    assert updated(PI, 10.0, confirmed(6, 9, 1, 0)) == pytest.approx([11 / 26, 12 / 26, 2.5 / 26, 0.5 / 26])


def test_units_found_good_keep_what_a_shop_may_miss() -> None:
    """Worked by fixed-point iteration: (.383, .450, .127, .040) for 14 confirmed and 6 that nobody found.

    Nothing was found in 6 cases; under cause i that happens with 1 - d_i, d = (.95, .6, .9, .3).
    """
    missed = [[0.05, 0.4, 0.1, 0.7]] * 6
    found = updated(PI, 10.0, confirmed(6, 6, 2, 0) + missed)
    assert found == pytest.approx([0.383, 0.450, 0.127, 0.040], abs=5e-4)
    theta = PI
    for _ in range(500):  # the same fixed point, written out
        weights = [one * miss for one, miss in zip(theta, missed[0], strict=True)]
        mass = [
            10 * share + count + 6 * weight / sum(weights)
            for share, count, weight in zip(PI, (6, 6, 2, 0), weights, strict=True)
        ]
        theta = [one / 30 for one in mass]
    assert found == pytest.approx(theta, abs=1e-9)


def test_without_findings_nothing_moves() -> None:
    assert updated(PI, 10.0, []) == PI


@pytest.mark.parametrize(
    "figures",
    [(0, 500.0, 0.0, 0.0), (0, 0.0, 0.0, 0.0), (2, 0.0, 0.5, 0.0), (-1, 10.0, 0.5, 5.0), (1, -10.0, 1.0, 50.0)],
)
def test_no_rate_follows_from_nothing(figures: tuple[int, float, float, float]) -> None:
    """No findings and no prior are no rate of 0: with 90 % it would lie between 0 and 0."""
    with pytest.raises(FaultreeError, match="no rate follows from"):
        rate(*figures)


def test_a_rate_by_hand() -> None:
    """Gamma(.5, 2000 h) with 3 findings in 8,000 h: mean 3.5 / 10,000 h, 90 % between 1.08e-4 and 7.03e-4."""
    found = rate(3, 8000.0, 0.5, 2000.0)
    assert found.mean == pytest.approx(3.5e-4)
    assert [found.low, found.high] == pytest.approx([1.08e-4, 7.03e-4], rel=5e-3)


def test_the_quantiles_are_those_of_the_exponential() -> None:
    """Gamma(1, b) is exponential: the quantile of probability p is -log(1 - p) / b."""
    found = rate(0, 0.0, 1.0, 100.0)
    assert [found.low, found.high] == pytest.approx([-log(0.95) / 100, -log(0.05) / 100])


# --- on a library ------------------------------------------------------------------------------

TREE = """
faultree: 1
title: A lamp of our own
items:
  lamp: {title: Lamp}
  cable: {title: Cable}
causes:
  burnt: {title: lamp burnt, item: lamp, probability: 0.02}
  loose: {title: lamp loose, item: lamp, probability: 0.01}
  cut: {title: cable cut, item: cable, probability: 0.01}
  mouse: {title: mouse at work, probability: 0.005}
  far: {title: something else, probability: 0.1}
signals:
  lit: {title: the lamp is lit, lost_if: [burnt, loose, cut, mouse]}
symptoms:
  dark: {title: the lamp stays dark, sees: {lit: no}}
"""
LIBRARY = load_texts({"s.yaml": TREE})


def finding(cause: str, unit: str | None = None) -> Finding:
    return Finding(unit or LIBRARY.causes[f"s/{cause}"].item or f"s/{cause}", f"s/{cause}", "confirmed")


def test_a_ranking_follows_what_was_found() -> None:
    """The posterior with the history is near the updated share, which is worked by hand: (10 pi + 20) / 30."""
    learnt = learn(LIBRARY, ["dark"], [finding("mouse")] * 20)
    share = {one.cause: one for one in learnt.shares}["s/mouse"]
    assert share.after == pytest.approx((10 * share.before + 20) / 30)
    first = Case.open(learnt.library, ["dark"]).ranking()[0]
    assert first.cause == "s/mouse"
    assert first.probability == pytest.approx(share.after, abs=0.02)
    assert (learnt.confirmed, learnt.not_found) == (20, 0)


def test_an_item_found_good_is_no_confirmation() -> None:
    """Its causes lose, all others gain, and nobody counts as found."""
    learnt = learn(LIBRARY, ["dark"], [Finding("s/lamp", None, "not found")] * 5)
    before = {one.cause: one.before for one in learnt.shares}
    after = {one.cause: one.after for one in learnt.shares}
    assert after["s/burnt"] < before["s/burnt"]
    assert after["s/cut"] > before["s/cut"]
    assert (learnt.confirmed, learnt.not_found) == (0, 5)
    assert sum(after.values()) == pytest.approx(1.0)


def test_an_item_without_its_cause_speaks_for_all_of_them() -> None:
    learnt = learn(LIBRARY, ["dark"], [Finding("s/lamp", None, "confirmed")] * 6)
    share = {one.cause: one for one in learnt.shares}
    assert share["s/burnt"].after / share["s/loose"].after == pytest.approx(2.0, rel=1e-3)
    assert share["s/burnt"].confirmed + share["s/loose"].confirmed == pytest.approx(6.0)


def test_what_the_report_has_nothing_to_do_with_stays() -> None:
    learnt = learn(LIBRARY, ["dark"], [finding("mouse"), Finding("s/far", "s/far", "confirmed")])
    assert learnt.confirmed == 1
    assert learnt.library.causes["s/far"].probability == 0.1


def test_an_item_stays_good_more_often_than_bad() -> None:
    """However often it was found: P(good) is what is left of 1, and must stay above 0."""
    library = learn(LIBRARY, ["dark"], [finding("burnt")] * 5000, strength=0.01).library
    lamp = [one.probability for one in library.causes.values() if one.item == "s/lamp"]
    assert sum(lamp) <= 0.5 + 1e-9


def test_history_helps_where_there_is_much_and_does_no_harm_where_there_is_little() -> None:
    """Log loss on 4,000 new faults from rates that differ from the author's.

    With 500 findings it is better than the author's on every one of 40 draws of true rates; with 5 it is, in the
    mean, not worse by more than two standard errors.
    """
    random = Random(11)
    causes = ["s/burnt", "s/loose", "s/cut", "s/mouse"]
    gains = {5: list[float](), 500: list[float]()}
    for _ in range(40):
        author = {one.cause: one.before for one in learn(LIBRARY, ["dark"], []).shares}
        true = [author[cause] * random.gammavariate(1.0, 1.0) for cause in causes]
        for count, found in gains.items():
            drawn = [finding(cause.partition("/")[2]) for cause in random.choices(causes, true, k=count)]
            after = {one.cause: one.after for one in learn(LIBRARY, ["dark"], drawn).shares}
            fresh = random.choices(causes, true, k=4000)
            found.append(sum(log(after[cause]) - log(author[cause]) for cause in fresh) / len(fresh))
    assert all(gain > 0.0 for gain in gains[500])
    few = gains[5]
    mean = sum(few) / len(few)
    error = (sum((one - mean) ** 2 for one in few) / len(few) / (len(few) - 1)) ** 0.5
    assert mean > -2.0 * error
