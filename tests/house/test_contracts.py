"""Each import contract of pyproject.toml holds, covers every room, and really fails when it is broken."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.house.source import PACKAGE, ROOT

BREACHES = {
    "rooms": ("base/words.py", "import faultree.logic"),
    "acyclic": ("base/errors.py", "import faultree.base.words\nimport faultree.library.model"),
    "root": ("walk/__init__.py", "import faultree"),
    "screen": ("walk/__init__.py", "import rich"),
    "pure": ("library/model.py", "import socket"),
    "files": ("belief/__init__.py", "import yaml"),
}
"""For every contract a module and an import that it must refuse there."""


def _contracts() -> dict[str, dict[str, Any]]:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]
    return {contract["id"]: contract for contract in settings["contracts"]}


def _lint(folder: Path, *wanted: str) -> subprocess.CompletedProcess[str]:
    command = ["import sys; from importlinter.cli import lint_imports_command; lint_imports_command()"]
    chosen = [word for one in wanted for word in ("--contract", one)]
    return subprocess.run(
        [sys.executable, "-P", "-c", *command, "--no-cache", *chosen],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(folder), "NO_COLOR": "1", "PYTHONUTF8": "1"},
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """The package and its settings in a folder where they may be broken."""
    shutil.copytree(PACKAGE, tmp_path / "faultree", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    return tmp_path


def test_every_contract_holds() -> None:
    """Arrows between rooms point down."""
    result = _lint(ROOT)
    assert result.returncode == 0, result.stdout + result.stderr


def test_every_contract_has_its_breach() -> None:
    """A contract that nobody has seen fail may be no contract."""
    assert set(_contracts()) == set(BREACHES)


@pytest.mark.parametrize("contract", BREACHES)
def test_a_breach_is_refused(copy: Path, contract: str) -> None:
    """The contract fails, and names the module, when the forbidden import is written."""
    inner, line = BREACHES[contract]
    path = copy / "faultree" / inner
    path.write_text(path.read_text(encoding="utf-8") + f"\n{line}\n", encoding="utf-8")
    result = _lint(copy, contract)
    assert result.returncode == 1, result.stdout + result.stderr
    assert "BROKEN" in result.stdout


def test_a_new_room_must_be_given_its_place(copy: Path) -> None:
    """The list of layers is exhaustive: a folder that it does not name is refused."""
    (copy / "faultree" / "attic").mkdir()
    (copy / "faultree" / "attic" / "__init__.py").write_text('"""A room without a place."""\n', encoding="utf-8")
    result = _lint(copy, "rooms")
    assert result.returncode == 1, result.stdout + result.stderr
    assert "attic" in result.stdout


def test_the_core_contracts_name_every_room_below_the_screens() -> None:
    """A room that is built later is not forgotten in the lists of what the core must not know."""
    contracts = _contracts()
    layers = contracts["rooms"]["layers"]
    below = layers[next(place for place, layer in enumerate(layers) if "terminal" in layer) + 1 :]
    rooms = {name.strip(" ()") for layer in below for name in layer.split("|")}
    built = {f"faultree.{room}" for room in rooms if (PACKAGE / room).is_dir()}
    assert set(contracts["screen"]["source_modules"]) == built
    with_tools = {"faultree.reports", "faultree.diagrams", "faultree.journal"}
    assert set(contracts["pure"]["source_modules"]) == built - with_tools
