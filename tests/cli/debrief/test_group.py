"""`faultree debrief` alone begins a case; every command below it can be asked for its help."""

from __future__ import annotations

import pytest

from faultree.cli.debrief.group import TOOLS
from tests.cli.desks import run


def test_alone_it_begins_a_case() -> None:
    assert "Aircraft >" in run("debrief", lines="HM-VLA\n").output


def test_options_of_a_flight_begin_one_too() -> None:
    assert "Flight number >" in run("debrief", "--aircraft", "HM-VLA", lines="x\n").output


@pytest.mark.parametrize("name", TOOLS)
def test_every_command_helps(name: str) -> None:
    assert "Usage:" in run("debrief", name, "--help").output


def test_the_help_lists_them_all() -> None:
    out = run("debrief", "--help").output
    assert all(name in out for name in TOOLS)


def test_an_unknown_word_is_no_command() -> None:
    run("debrief", "zebra", code=2)
