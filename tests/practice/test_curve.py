"""The curve of a run: bits missing at the start, and after each step, over the minutes spent."""

from __future__ import annotations

from math import log2

import pytest

from faultree.practice.curve import Moment, curve, missing
from faultree.practice.events import Ask, PutRight
from faultree.strategy.case import Case
from tests.oracles.brute import Brute
from tests.practice.small import gate
from tests.practice.test_mark import done


def test_bits_are_those_of_the_enumeration() -> None:
    """Each unit weighed by what its probability exceeds its prior by, the entropy of their shares."""
    library = gate()
    units = Brute(library, ["g/still"]).units()
    prior: dict[str, float] = {}
    for cause in library.causes.values():
        unit = cause.item or cause.id
        prior[unit] = prior.get(unit, 0.0) + cause.probability
    weights = [max(units[unit] - prior[unit], 0.0) for unit in units if unit != "g/mat-torn"]
    shares = [weight / sum(weights) for weight in weights]
    expected = -sum(share * log2(share) for share in shares if share > 0.0)
    assert missing(Case.open(library, ["still"])) == pytest.approx(expected, abs=1e-9)


def test_doubt_of_the_report_is_one_more_possibility() -> None:
    """H(d) + (1 - d) H, the grouping rule of entropy (Shannon 1948, section 6)."""
    case = Case.open(gate(), ["still"])
    own = -(0.3 * log2(0.3) + 0.7 * log2(0.7))
    assert missing(case, 0.3) == pytest.approx(own + 0.7 * missing(case), abs=1e-9)


def test_a_curve_starts_at_the_report_and_ends_where_all_is_known() -> None:
    found = curve(done(Ask("listen"), PutRight("motor")))
    assert found[0] == Moment(0.0, missing(Case.open(gate(), ["still"])))
    assert [one.minutes for one in found] == [0.0, 2.0, 35.0]
    assert found[0].bits > found[1].bits >= found[2].bits == 0.0
