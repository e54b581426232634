"""The ranking in one go, for a person and as plain data."""

from __future__ import annotations

import json
from typing import Any

import pytest
from click.testing import CliRunner

from faultree.cli.commands import commands
from faultree.strategy.case import Case
from faultree.walk.prompt import NOTICE
from tests.walk.small import small

pytestmark = pytest.mark.usefixtures("here")


def _rank(*arguments: str) -> str:
    done = CliRunner().invoke(commands, ["rank", *arguments])
    assert (done.exit_code, done.stderr) == (0, "")
    return done.stdout


def _data(*arguments: str) -> dict[str, Any]:
    return dict(json.loads(_rank(*arguments, "--json")))


def test_plain_data_has_the_field_names_of_the_values() -> None:
    """What a program reads is what the Python face gives."""
    data = _data("dark", "--answer", "voltage=no")
    case = Case.open(small(), ["dark"]).answer("voltage", "no")
    assert set(data) == {
        "symptoms", "answers", "bound", "ranking", "explanations", "checks", "advice", "notice",
    }  # fmt: skip
    assert data["symptoms"] == ["signal/dark"]
    assert data["answers"] == {"signal/voltage": "no"}
    assert data["bound"] == 0.0
    assert data["notice"] == NOTICE
    for key, values in (("ranking", case.ranking()), ("checks", case.checks()), ("advice", case.advice())):
        assert [set(one) for one in data[key]] == [set(one._fields) for one in values]
    assert [one["cause"] for one in data["ranking"]] == [one.cause for one in case.ranking()]
    assert [one["probability"] for one in data["ranking"]] == [one.probability for one in case.ranking()]
    assert data["explanations"][0]["causes"] == list(case.explanations()[0].causes)


def test_an_answer_that_could_not_be_told_is_null() -> None:
    """A question mark stands for it."""
    data = _data("dark", "--answer", "voltage=?")
    assert data["answers"] == {"signal/voltage": None}
    assert "signal/voltage" not in [one["check"] for one in data["checks"]]


def test_several_symptoms_are_one_case() -> None:
    """Ids, short ids and words can be mixed."""
    assert _data("dark", "reported bad")["symptoms"] == ["signal/dark", "signal/doubly-bad"]


def test_for_a_person_suspects_steps_and_the_notice() -> None:
    """Piped output is plain."""
    out = _rank("dark")
    assert "\x1b" not in out
    flat = " ".join(out.split())
    for words in ("Suspects", "Signal lamp broken", "48 %", "What to do next", "probable 0.01", NOTICE):
        assert words in flat
