"""Why a cause leads to a symptom, what excludes it, and what a check tells apart."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from faultree.cli.commands import commands
from faultree.strategy.case import Case
from tests.walk.small import small

pytestmark = pytest.mark.usefixtures("here")


def _why(*arguments: str) -> str:
    done = CliRunner().invoke(commands, ["why", "dark", *arguments])
    assert (done.exit_code, done.stderr) == (0, "")
    return done.stdout


@pytest.mark.parametrize("name", ["lamp-broken", "signal/fuse-blown", "voltage"])
def test_the_sentences_are_those_of_the_case(name: str) -> None:
    """As plain data, and for a person below the title."""
    case = Case.open(small(), ["dark"])
    full = next(one for one in (*small().causes, *small().checks) if one.endswith(name.rpartition("/")[2]))
    assert json.loads(_why(name, "--json")) == {"why": list(case.why(full))}
    flat = " ".join(_why(name).split())
    assert case.why(full)[-1] in flat


def test_an_item_is_explained_by_its_causes() -> None:
    """Whoever asks for the relay is told of both its faults."""
    text = _why("relay")
    assert "relay stuck open" in text
    assert "relay welded closed" in text


def test_an_excluded_cause_names_the_answer() -> None:
    """Voltage at the lamp clears the fuse."""
    text = _why("fuse-blown", "--answer", "voltage=yes")
    assert "measure the voltage at the lamp" in " ".join(text.split())


@pytest.mark.parametrize("name", ["lamp-broken", "signal/lamp-broken"])
def test_a_cause_without_a_part_in_the_case_is_told_so(name: str) -> None:
    """Whoever misses a suspect learns that the report does not depend on it."""
    done = CliRunner().invoke(commands, ["why", "button-lamp", name])
    assert (done.exit_code, done.stderr) == (0, "")
    assert "has no part in this: nothing seen so far depends on it" in " ".join(done.stdout.split())
