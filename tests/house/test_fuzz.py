"""The long fuzzing is run by hand; here each target takes some inputs, so that it still runs when it is needed."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from tests.benchmarks.fuzz import PIECES, inputs
from tests.benchmarks.fuzz_targets import TARGETS, seeds


@pytest.mark.parametrize("name", TARGETS)
def test_a_target_takes_good_inputs_and_any_others(name: str) -> None:
    """Nothing is raised; the good inputs lead all the way through."""
    assert PIECES.keys() == TARGETS.keys()
    for good in seeds(name):
        TARGETS[name](good)

    @given(inputs(name))
    @settings(max_examples=60, derandomize=True, deadline=None)
    def takes(data: bytes) -> None:
        TARGETS[name](data)

    takes()


@pytest.mark.parametrize(("name", "broken"), [("reader", "read_texts"), ("case", "prompt"), ("walk", "prompt")])
def test_a_target_hands_on_what_goes_wrong(name: str, broken: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A target that swallows errors would find none."""

    def fails(*_: object, **__: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(f"tests.benchmarks.fuzz_targets.{broken}", fails)
    good = seeds(name)[-1]
    with pytest.raises(ZeroDivisionError):
        TARGETS[name](good)
