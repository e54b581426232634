"""Bayes' theorem for one imperfect test.

Source: the theorem itself, worked for a prior of 0.2, a sensitivity of 0.77 and a specificity of
0.98: 0.905882 after a positive test and 0.0554217 after a negative one (from memory of a textbook
example; 0.154/0.17 and 0.046/0.83 by hand).
"""

from __future__ import annotations

import pytest

from tests.published.small import answers, opened, probability

# The report tells nothing: it sees a fact of the situation that is so whatever is wrong.
LIBRARY = """
conditions:
  asked: {title: Somebody asked, usually: yes}
causes:
  disease: {title: The condition sought, probability: 0.2}
checks:
  test:
    title: The test
    ask: Is it positive?
    reads: disease
    false_no: 0.23
    false_yes: 0.02
symptoms:
  reported: {title: Somebody asked, event: asked}
"""


def test_a_report_that_tells_nothing_leaves_the_prior() -> None:
    assert probability(opened(LIBRARY), "disease") == pytest.approx(0.2, abs=1e-12)


@pytest.mark.parametrize(("answer", "expected", "digits"), [("yes", 0.905882, 5e-7), ("no", 0.0554217, 5e-8)])
def test_posterior_after_an_imperfect_test(answer: str, expected: float, digits: float) -> None:
    assert probability(opened(LIBRARY).answer("test", answer), "disease") == pytest.approx(expected, abs=digits)


def test_chance_of_a_positive_test() -> None:
    """0.2 x 0.77 + 0.8 x 0.02 = 0.17."""
    assert answers(opened(LIBRARY), "test") == pytest.approx({"yes": 0.17, "no": 0.83}, abs=1e-12)
