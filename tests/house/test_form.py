"""Modules and functions stay small, and each module opens with the sentence that says its job."""

from __future__ import annotations

import ast
import statistics
from pathlib import Path

import pytest

from tests.house.source import PACKAGE, functions, imports, length, modules, name, suite, tree

LONGEST_MODULE = 399


@pytest.mark.parametrize("path", [*modules(), *suite()], ids=name)
def test_module_stays_under_400_lines(path: Path) -> None:
    """Over that a module has more than one job, and its own name no longer says which."""
    assert len(path.read_text(encoding="utf-8").splitlines()) <= LONGEST_MODULE


@pytest.mark.parametrize("path", [*modules(), *suite()], ids=name)
def test_module_opens_with_one_sentence(path: Path) -> None:
    """The first paragraph of a module's docstring is one sentence on one or two lines."""
    docstring = ast.get_docstring(tree(path))
    assert docstring, "the module does not say its job"
    first = docstring.partition("\n\n")[0]
    assert first.rstrip().endswith((".", "?", "!")), f"no sentence: {first!r}"
    assert len(first) <= 240, "the first sentence is too long to be one job"


def test_functions_are_short() -> None:
    """Half of all functions have less than 10 lines and 95 of 100 less than 50, docstrings not counted."""
    lengths = sorted(length(function) for path in modules() for function in functions(path))
    over = [
        f"{name(path)}:{function.lineno} {function.name}: {length(function)} lines"
        for path in modules()
        for function in functions(path)
        if length(function) >= 50
    ]
    assert statistics.median(lengths) < 10
    assert len(over) <= 0.05 * len(lengths), "\n".join(over)


def _rooms() -> list[Path]:
    return [path for path in modules() if path != PACKAGE / "__init__.py"]


@pytest.mark.parametrize("path", _rooms(), ids=name)
def test_nothing_inside_imports_the_package_root(path: Path) -> None:
    """The root is the face for people outside; importing it from inside would tie every room to every other."""
    root = [line for line, module in imports(path) if module == "faultree"]
    assert not root, f"{name(path)}:{root[0]} imports the package root"


Definition = ast.FunctionDef | ast.ClassDef


@pytest.mark.parametrize("path", modules(), ids=name)
def test_public_things_say_what_they_are(path: Path) -> None:
    """Every public function, method and class has a docstring that says more than its name.

    Where several classes of a module answer to one interface, the method is described once.
    """
    described = {one.name for one in _methods(path) if ast.get_docstring(one)}
    wanted = [*_definitions(tree(path)), *(one for one in _methods(path) if one.name not in described)]
    silent = [f"{name(path)}:{one.lineno} {one.name}" for one in wanted if not ast.get_docstring(one)]
    assert not silent, f"no docstring: {silent}"
    empty = [one.name for one in (*wanted, *_methods(path)) if _only_the_name(one)]
    assert not empty, f"the docstring only repeats the name: {empty}"


def _definitions(body: ast.Module | ast.ClassDef) -> list[Definition]:
    return [one for one in body.body if isinstance(one, Definition) and not one.name.startswith("_")]


def _methods(path: Path) -> list[Definition]:
    classes = [one for one in _definitions(tree(path)) if isinstance(one, ast.ClassDef)]
    return [one for owner in classes for one in _definitions(owner) if not _is_a_field(one)]


def _is_a_field(definition: Definition) -> bool:
    """A property without a body, by which a protocol declares a field; the class says what its fields are."""
    value = definition.body[0].value if isinstance(definition.body[0], ast.Expr) else None
    return isinstance(value, ast.Constant) and value.value is ...


def _only_the_name(definition: Definition) -> bool:
    words = (ast.get_docstring(definition) or "").rstrip(".").casefold().split()
    return words == definition.name.casefold().split("_")
