"""The package that users install carries the demonstration library and nothing that it should not."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from tests.house.source import ROOT


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    """The wheel, built by the project's own build backend."""
    from hatchling.builders.wheel import WheelBuilder

    folder = tmp_path_factory.mktemp("wheel")
    (built,) = WheelBuilder(str(ROOT)).build(directory=str(folder), versions=["standard"])
    return zipfile.ZipFile(built)


def test_the_trees_travel_with_the_package(wheel: zipfile.ZipFile) -> None:
    """`faultree` finds its demonstration library wherever it is installed."""
    trees = sorted((ROOT / "trees").glob("*.yaml"))
    assert trees
    for path in trees:
        assert wheel.read(f"faultree/trees/{path.name}") == path.read_bytes()


def test_the_types_travel_with_the_package(wheel: zipfile.ZipFile) -> None:
    """A type checker of someone else sees ours."""
    assert "faultree/py.typed" in wheel.namelist()


def test_every_module_travels_and_nothing_else_does(wheel: zipfile.ZipFile) -> None:
    """No test, no document and no cache is installed into anyone's environment."""
    names = {name for name in wheel.namelist() if ".dist-info/" not in name}
    modules = {path.relative_to(ROOT).as_posix() for path in (ROOT / "faultree").rglob("*.py")}
    trees = {f"faultree/{path.relative_to(ROOT).as_posix()}" for path in (ROOT / "trees").rglob("*") if path.is_file()}
    pages = {path.relative_to(ROOT).as_posix() for path in (ROOT / "faultree/reports/templates").iterdir()}
    assert names == modules | trees | pages | {"faultree/py.typed"}


def test_the_command_and_the_licence_are_declared(wheel: zipfile.ZipFile) -> None:
    """Installing gives the command `faultree`, and the licence text."""
    info = {Path(name).name: wheel.read(name).decode() for name in wheel.namelist() if ".dist-info/" in name}
    assert "faultree = faultree.cli.main:main" in info["entry_points.txt"]
    assert info["LICENSE"].startswith("MIT License")
    assert "License-Expression: MIT" in info["METADATA"]
