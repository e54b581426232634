"""Reports that contradict each other are not made one case."""

from __future__ import annotations

import pytest

from faultree.base.errors import CaseError
from faultree.library.load import load_texts
from faultree.walk.reported import together

LAMP = """
faultree: 1
title: Lamp
causes:
  burnt: {title: bulb burnt, probability: 0.01}
events:
  off: {title: lamp off, any: [burnt]}
symptoms:
  dark: {title: the lamp is dark, event: off}
  lit: {title: the lamp is lit, sees: {off: no}}
  both: {title: nonsense, sees: {off: yes, burnt: no}}
"""


def test_the_first_of_two_that_contradict_stands() -> None:
    library = load_texts({"lamp.yaml": LAMP})
    assert together(library, ("lamp/dark", "lamp/lit")) == ("lamp/dark",)
    assert together(library, ("lamp/lit", "lamp/dark")) == ("lamp/lit",)
    assert together(library, ("lamp/gone", "lamp/dark")) == ("lamp/dark",)


@pytest.mark.parametrize("reports", [(), ("lamp/gone",), ("lamp/both",)])
def test_without_a_possible_report_there_is_no_case(reports: tuple[str, ...]) -> None:
    library = load_texts({"lamp.yaml": LAMP})
    with pytest.raises(CaseError, match="none of these reports is possible"):
        together(library, reports)
