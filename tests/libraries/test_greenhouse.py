"""A glasshouse in three files, written by a new author from the authors' page and the starter alone."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from faultree.library.load import load
from faultree.library.model import Library
from faultree.library.writer import write
from faultree.strategy import examples
from faultree.strategy.case import Case
from faultree.strategy.lint.run import lint
from tests.library.editor import underlined
from tests.oracles.brute import World

FOLDER = Path(__file__).with_name("greenhouse")
FILES = sorted(FOLDER.glob("*.yaml"))


@cache
def _library() -> Library:
    return load(FOLDER)


def test_it_lints_clean() -> None:
    """No error, no warning and no advice."""
    assert list(map(str, lint(_library()))) == []


def test_the_examples_hold() -> None:
    """There is one for every symptom, and each claims something."""
    assert examples.run(_library()) == ()
    assert {name for one in _library().examples for name in one.symptoms} == set(_library().symptoms)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_it_is_laid_out_as_the_format_has_it(path: Path) -> None:
    """And an editor underlines nothing."""
    text = path.read_text(encoding="utf-8")
    assert write(text, path.name).text == text
    assert underlined(text) == set()


@pytest.mark.parametrize("symptom", ["heats-at-noon", "open-in-rain", "open-in-storm", "stay-shut", "stays-cold"])
def test_every_report_is_reasoned_about_exactly(symptom: str) -> None:
    assert Case.open(_library(), [symptom]).bound == 0.0


def _pipes_warm(*faults: str, situation: str) -> bool:
    return World(_library(), [f"heating/{one}" for one in faults], f"site/{situation}").node("heating/pipes-warm")


def test_the_pipes_follow_the_cold() -> None:
    """The interlock does what its author says of it: by evaluation of the nodes, without the engine."""
    assert _pipes_warm(situation="cold-night")
    assert not _pipes_warm(situation="warm-noon")
    assert not _pipes_warm("burner-locked", situation="cold-night")
    assert _pipes_warm("sensor-low", situation="warm-noon")


def test_one_welded_relay_does_not_heat_at_noon() -> None:
    """It takes the valve as well; so the pair is explained together."""
    assert not _pipes_warm("pump-relay-welded", situation="warm-noon")
    assert _pipes_warm("pump-relay-welded", "valve-stuck-open", situation="warm-noon")
    sets = [one.causes for one in Case.open(_library(), ["heats-at-noon"]).explanations()]
    assert {"heating/pump-relay-welded", "heating/valve-stuck-open"} in [set(one) for one in sets]
