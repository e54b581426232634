"""Every command is described in the documents, and every face that proposes an action says who decides."""

from __future__ import annotations

import re
import subprocess
import sys

import click
import pytest

from faultree.cli.commands import commands
from tests.house.source import ROOT, documents

NAMES = commands.list_commands(click.Context(commands))


def _options(command: str) -> list[str]:
    found = commands.get_command(click.Context(commands), command)
    assert found is not None
    return [max(one.opts, key=len) for one in found.params if isinstance(one, click.Option) and not one.hidden]


def _described() -> str:
    return "\n".join(path.read_text(encoding="utf-8") for path in documents())


def test_there_are_commands() -> None:
    """The tests below look at something."""
    assert {"walk", "rank", "why", "lint"} <= set(NAMES)


@pytest.mark.parametrize("command", NAMES)
def test_every_command_is_described(command: str) -> None:
    """A command that no document names is found by nobody."""
    assert re.search(rf"faultree {command}\b", _described())


@pytest.mark.parametrize(("command", "option"), [(name, one) for name in NAMES for one in _options(name)])
def test_every_option_is_described(command: str, option: str) -> None:
    """The same for its options."""
    assert re.search(rf"(?<![\w-]){option}\b", _described()), f"no document names {option} of {command}"


def _shown(*arguments: str, typed: str = "") -> str:
    """What a command shows on both streams, its lines joined so that a sentence can be found."""
    program = [sys.executable, "-m", "faultree", *arguments]
    done = subprocess.run(program, cwd=ROOT, input=typed, capture_output=True, text=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stderr
    return " ".join((done.stdout + done.stderr).split())


@pytest.mark.parametrize(
    ("arguments", "typed"),
    [
        ((), ""),
        (("--help",), ""),
        (("rank", "spoilers/stay-down"), ""),
        (("analyse", "spoilers/stay-down"), ""),
        (("walk", "spoilers/stay-down"), ""),
        (("walk", "spoilers/stay-down"), "ok\nfinish\n"),
        (("chart", "generator-1-off"), ""),
        (("chart", "generator-1-off", "--json"), ""),
    ],
    ids=["alone", "help", "rank", "analyse", "walk", "finish", "chart", "chart-json"],
)
def test_every_face_says_who_decides(arguments: tuple[str, ...], typed: str) -> None:
    """The approved maintenance manual and a licensed engineer decide; nobody can miss it."""
    shown = _shown(*arguments, typed=typed)
    assert re.search(r"approved (maintenance )?manual and a licensed engineer decide", shown)
