"""What the house rules look at: the project's files, modules and functions."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "faultree"
TESTS = ROOT / "tests"

Function = ast.FunctionDef | ast.AsyncFunctionDef


@cache
def modules() -> tuple[Path, ...]:
    """Every Python file of the package."""
    return tuple(sorted(PACKAGE.rglob("*.py")))


@cache
def suite() -> tuple[Path, ...]:
    """Every Python file of the tests."""
    return tuple(sorted(TESTS.rglob("*.py")))


@cache
def documents() -> tuple[Path, ...]:
    """Every Markdown file that a reader is meant to see."""
    return (*sorted(ROOT.glob("*.md")), *sorted((ROOT / "docs").rglob("*.md")))


@cache
def tracked() -> tuple[Path, ...]:
    """Every file under version control that is there; all of them outside a checkout (an unpacked sdist)."""
    if not (ROOT / ".git").exists():
        return tuple(path for path in sorted(ROOT.rglob("*")) if path.is_file() and "__pycache__" not in path.parts)
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True).stdout
    paths = (ROOT / name.decode() for name in listed.split(b"\0") if name)
    return tuple(path for path in paths if path.is_file())


@cache
def tree(path: Path) -> ast.Module:
    """The syntax tree of a Python file."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def name(path: Path) -> str:
    """A path as it is written in this project: from its top, with forward slashes."""
    return path.relative_to(ROOT).as_posix()


def functions(path: Path) -> Iterator[Function]:
    """Every function and method of a Python file, inner ones included."""
    for node in ast.walk(tree(path)):
        if isinstance(node, Function):
            yield node


def length(function: Function) -> int:
    """The lines of a function without its docstring: what has to be held in the head at once."""
    assert function.end_lineno is not None
    lines = function.end_lineno - function.lineno + 1
    first = function.body[0]
    if ast.get_docstring(function) is not None:
        assert first.end_lineno is not None
        lines -= first.end_lineno - first.lineno + 1
    return lines


def imports(path: Path) -> Iterator[tuple[int, str]]:
    """Every module name that a file imports, with the line; `from a import b` gives `a` and `a.b`."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module is not None:
            yield node.lineno, node.module
            yield from ((node.lineno, f"{node.module}.{alias.name}") for alias in node.names)
