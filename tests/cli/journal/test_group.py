"""Every command of the journal can be asked for its help, and the group lists them."""

from __future__ import annotations

import pytest

from faultree.cli.journal.group import TOOLS
from tests.cli.desks import run


@pytest.mark.parametrize("name", TOOLS)
def test_every_command_helps(name: str) -> None:
    assert "Usage:" in run("journal", name, "--help").output


def test_the_help_lists_them_all() -> None:
    out = run("journal", "--help").output
    assert all(name in out for name in TOOLS)


def test_an_unknown_word_is_no_command() -> None:
    run("journal", "zebra", code=2)
