"""What is unknown, in bits, and what a check tells about the suspects, held against enumeration or worked by hand."""

from __future__ import annotations

from math import log2

import pytest

from faultree.practice.telling import missing, narrows, open_suspects, suspect_bits
from faultree.strategy.case import Case
from tests.oracles.brute import Brute
from tests.practice.small import gate


def test_a_check_of_something_else_tells_nothing_about_the_suspects() -> None:
    """The mat has bits about itself; the motor is asked about once, and then nobody doubts it."""
    case = Case.open(gate(), ["still"])
    assert next(one.bits for one in case.checks() if one.check == "g/mat") > 0.1
    assert suspect_bits(case, "g/mat") == 0.0
    assert suspect_bits(case, "g/listen") == pytest.approx(Brute(gate(), ["g/still"]).bits("g/listen"), abs=1e-9)
    assert suspect_bits(case.answer("listen", "no"), "g/look-in") == 0.0


def test_a_check_narrows_by_what_is_less_unknown_after_it_on_average() -> None:
    """Worked with each answer in turn; what a check tells about other things counts for nothing."""
    case = Case.open(gate(), ["still"])
    assert narrows(case, "g/mat") == pytest.approx(0.0, abs=1e-6)
    for check in ("g/listen", "g/gauge"):
        (told,) = (one for one in case.checks() if one.check == check)
        after = sum(chance * missing(case.answer(check, answer)) for answer, chance in told.answers.items() if chance)
        assert narrows(case, check) == pytest.approx(max(missing(case) - after, 0.0), abs=1e-9)
    assert narrows(case, "g/listen") > 0.1


def test_open_are_the_suspects_that_the_evidence_points_to() -> None:
    case = Case.open(gate(), ["still"])
    assert open_suspects(case)[0] == "g/motor-dead"
    assert "g/mat-torn" not in open_suspects(case)
    assert open_suspects(case.answer("listen", "no")) == ("g/motor-dead",)


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
