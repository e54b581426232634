"""Asking for the version loads nothing heavy, so that the command answers at once."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = ("numpy", "networkx", "pydantic", "rich", "yaml", "graphviz", "importlib.metadata")

PROGRAM = """
import sys
sys.argv = ["faultree", *sys.argv[1:]]
from faultree.cli.main import main
try:
    main()
finally:
    print("LOADED", *sorted(sys.modules))
"""


def _loaded(*arguments: str) -> tuple[str, set[str]]:
    """What a command prints, and the modules that it has loaded by its end."""
    done = subprocess.run([sys.executable, "-c", PROGRAM, *arguments], capture_output=True, text=True, check=True)
    shown, _, names = done.stdout.partition("LOADED ")
    return shown, set(names.split())


def test_the_version_loads_nothing_heavy() -> None:
    """Each of these costs more than the rest of the start together; they are imported where they are used."""
    shown, loaded = _loaded("--version")
    assert "faultree" in loaded
    assert not loaded.intersection(HEAVY)
    assert shown.startswith("faultree")


def test_help_loads_nothing_heavy() -> None:
    """A list of commands needs no engine."""
    _, loaded = _loaded("--help")
    assert not loaded.intersection(HEAVY[:5])


@pytest.mark.parametrize("room", ["base", "library", "logic", "belief", "strategy", "walk"])
def test_the_package_root_loads_no_room(room: str) -> None:
    """`import faultree` is only a door; a room is loaded when something of it is asked for."""
    code = f"import sys, faultree; print('faultree.{room}' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
