"""The folders of the tests mirror the package, so that a rule's test is found where its code is."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.house.source import PACKAGE, TESTS, modules, name, suite

NOT_MIRRORED = {
    "house": "the rules of this project, not of one module",
    "published": "one file per source outside the project",
    "trees": "the promises of the demonstration library",
    "libraries": "libraries of other systems, written as new authors write them",
    "oracles": "slow references that are obviously right",
    "benchmarks": "scripts that measure; they are no tests",
}

TESTED_ELSEWHERE: dict[str, tuple[str, str]] = {
    "journal/records.py": ("journal/test_book.py", "frozen values, made by the functions that read"),
    "journal/tables.py": ("journal/test_migrate.py", "a list of tables, held against what the migrations make"),
    "strategy/chart/nodes.py": ("strategy/chart/test_saved.py", "frozen values without behaviour"),
    "walk/chart_blocks.py": ("walk/test_chart_page.py", "frozen values without behaviour, made by the page"),
    "practice/events.py": ("practice/test_exercise.py", "frozen values without behaviour"),
    "terminal/meant.py": ("terminal/test_typed.py", "frozen values without behaviour, made by the reader of lines"),
    "library/model.py": ("library/test_load.py", "frozen values, almost without behaviour, built by the reader"),
}
"""Modules over 40 lines without a test file of their own: where their rules are tested, and why there."""

SMALL = 40


def _module_of(test: Path) -> Path | None:
    """The module that a test file belongs to: `test_reader.py` and `test_reader_hostile.py` to `reader.py`."""
    folder = PACKAGE / test.parent.relative_to(TESTS)
    words = test.stem.removeprefix("test_").split("_")
    for count in range(len(words), 0, -1):
        stem = "_".join(words[:count])
        if (folder / f"{stem}.py").exists() or (folder / stem / "__init__.py").exists():
            return folder / f"{stem}.py"
    return None


def _mirrored() -> list[Path]:
    found = []
    for path in suite():
        inner = path.relative_to(TESTS)
        if path.name.startswith("test_") and len(inner.parts) > 1 and inner.parts[0] not in NOT_MIRRORED:
            found.append(path)
    return found


@pytest.mark.parametrize("path", _mirrored(), ids=name)
def test_a_test_file_names_its_module(path: Path) -> None:
    """`tests/belief/test_prior.py` tests `faultree/belief/prior.py`; more words after the name are allowed."""
    assert _module_of(path) is not None, f"no module stands beside {name(path)}"


def _tested() -> set[Path | None]:
    return {_module_of(path) for path in (*_mirrored(), *TESTS.glob("test_*.py"))}


def test_every_module_of_substance_has_its_test() -> None:
    """A module over 40 lines has a test file of its own, or a line that says where its rules are tested."""
    tested = _tested()
    missing = []
    for path in modules():
        inner = path.relative_to(PACKAGE).as_posix()
        large = len(path.read_text(encoding="utf-8").splitlines()) > SMALL
        if large and path.name != "__init__.py" and path not in tested and inner not in TESTED_ELSEWHERE:
            missing.append(inner)
    assert not missing, f"no tests for {missing}"


@pytest.mark.parametrize("inner", TESTED_ELSEWHERE)
def test_an_exception_is_still_needed(inner: str) -> None:
    """An exception names a test that is there; a module that is gone or has its own test by now needs none."""
    path = PACKAGE / inner
    assert path.exists()
    assert path not in _tested()
    assert (TESTS / TESTED_ELSEWHERE[inner][0]).exists()
