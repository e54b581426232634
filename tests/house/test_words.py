"""What stands in the project's files: agreed names on top, no excuses, nothing of one machine."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.house.source import ROOT, modules, name, suite, tracked

TOP = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "faultree", "trees", "tests", "docs"}

# A letter stands in brackets, so that this file does not find itself.
EXCUSES = re.compile(r"\b(?:TOD[O]|FIXM[E]|XX[X]|HAC[K])\b")
MACHINE_PATHS = re.compile(r"(?<![\w./~-])/(?:wo[r]k|ro[o]t|ho[m]e/\w+|Us[e]rs/\w+|tm[p])(?=[/\s\"'`]|$)")
HOSTS = re.compile(r"pyp[i][.]org|pythonhoste[d]|registry[.]npmj[s]|deb[.]debia[n]", re.IGNORECASE)
BARE_SKIP = re.compile(r"pytest\.(?:mark\.)?(?:skip|xfail)(?:\(\s*\)|\s*$)", re.MULTILINE)
BARE_IGNORE = re.compile(r"#\s*(?:noqa|type:\s*ignore|pragma: no cover)(?!\S*[:\[])(?!.*  # )", re.IGNORECASE)


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return ""


def _hits(pattern: re.Pattern[str], path: Path) -> list[str]:
    lines = _text(path).splitlines()
    return [f"{name(path)}:{number}: {line.strip()}" for number, line in enumerate(lines, 1) if pattern.search(line)]


def test_the_top_level_shows_only_agreed_names() -> None:
    """Whoever opens the project sees eight names; dot-files may join them."""
    shown = {path.relative_to(ROOT).parts[0] for path in tracked()}
    if not (ROOT / ".git").exists():
        shown.discard("PKG-INFO")
    assert {one for one in shown if not one.startswith(".")} <= TOP


@pytest.mark.parametrize("pattern", [MACHINE_PATHS, HOSTS], ids=["path", "host"])
def test_nothing_of_one_machine_is_in_a_file(pattern: re.Pattern[str]) -> None:
    """A path or a package host of one machine would be wrong on every other."""
    found = [hit for path in tracked() for hit in _hits(pattern, path)]
    assert not found, "\n".join(found)


def test_no_excuses() -> None:
    """Work not done is written down where work is planned, not left in the code."""
    found = [hit for path in tracked() for hit in _hits(EXCUSES, path)]
    assert not found, "\n".join(found)


def test_no_bare_skip_or_suppression() -> None:
    """A test that is skipped and a check that is suppressed say why."""
    files = [*modules(), *suite()]
    found = [hit for path in files for pattern in (BARE_SKIP, BARE_IGNORE) for hit in _hits(pattern, path)]
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    ("pattern", "line"),
    [
        (MACHINE_PATHS, "open('/ro" + "ot/x')"),
        (MACHINE_PATHS, "cd /tm" + "p"),
        (HOSTS, "https://pypi" + ".org/simple"),
        (EXCUSES, "# TO" + "DO: later"),
        (BARE_SKIP, "@pytest.mark." + "skip"),
        (BARE_SKIP, "pytest." + "skip()"),
        (BARE_IGNORE, "x = 1  # no" + "qa"),
        (BARE_IGNORE, "x = 1  # type: " + "ignore"),
    ],
    ids=["path", "path-end", "host", "excuse", "skip-mark", "skip-call", "noqa", "type-ignore"],
)
def test_the_patterns_find_what_they_are_for(pattern: re.Pattern[str], line: str) -> None:
    """A search that finds nothing proves nothing unless it can find."""
    assert pattern.search(line)


@pytest.mark.parametrize(
    ("pattern", "line"),
    [
        (MACHINE_PATHS, "trees/work/x.yaml, /workshop, ~/tmp"),
        (BARE_SKIP, "@pytest.mark.skip(reason='no C compiler')"),
        (BARE_IGNORE, "x = 1  # type: ignore[misc]  # the base is dynamic"),
        (BARE_IGNORE, "x = 1  # noqa: E501"),
    ],
    ids=["paths", "skip", "type-ignore", "noqa"],
)
def test_the_patterns_leave_the_rest_alone(pattern: re.Pattern[str], line: str) -> None:
    """What is allowed is not found."""
    assert not pattern.search(line)
