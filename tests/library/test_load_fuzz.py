"""Whatever the text, the reader gives a library or problems and nothing else."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from faultree.base.errors import LibraryError
from faultree.base.problem import Problem
from faultree.library.load import load_texts, read_texts
from faultree.library.marked import FAST_LOADER, SAFE_LOADER
from faultree.library.model import Gate, Operand, Ref
from faultree.library.values import control
from tests.library.texts import loaded

FULL = Path(__file__).with_name("full.yaml").read_text(encoding="utf-8")
PIECES = [
    *("[", "]", "{", "}", "- ", ": ", ":", "\n", "\n  ", "\t", "'", '"', ",", "#", "|\n", ">-\n", "? ", "%", "@", "`"),
    *("&a ", "*a", "!t ", "<<: ", "---\n", "...\n", "~", "null", "yes", "1e999", ".nan", "-1", "9" * 5000, "1:30"),
    *(r'"\x00"', r'"\UFFFFFFFF"', r'"\ud800"', r'"\e"', "\x85", "\u2028", "\ufeff", "\x00", "\ud800", "é", "x" * 300),
    *("otherwise", "at_least: ", "count: ", "of: ", "x-a: [1]", "extends: evening", "full/bulb", "zz/worn", "a/b/c"),
]

edits = st.lists(
    st.tuples(st.integers(0, len(FULL)), st.integers(0, 60), st.sampled_from(PIECES) | st.text(max_size=4)),
    min_size=1,
    max_size=6,
)


def edited(changes: list[tuple[int, int, str]]) -> str:
    """The full file with pieces of it cut out and others put in."""
    text = FULL
    for place, cut, piece in changes:
        text = text[:place] + piece + text[place + cut :]
    return text


def _only_library_errors(texts: dict[str, str | bytes]) -> None:
    problems: tuple[Problem, ...] = ()
    try:
        load_texts(texts)
    except LibraryError as error:
        problems = error.problems
        assert problems, "an error without a problem"
    for problem in problems:
        assert control(str(problem)) is None
        assert "\n" not in str(problem)
        assert problem.message
        assert problem.hint


@given(st.text())
@settings(max_examples=300, derandomize=True)
def test_any_text(text: str) -> None:
    """A text loads or raises LibraryError, with messages that fit on a line and disturb no screen."""
    _only_library_errors({"a.yaml": text})


@given(st.binary())
@settings(max_examples=300, derandomize=True)
def test_any_bytes(content: bytes) -> None:
    _only_library_errors({"a.yaml": content, "b.yaml": b"faultree: 1\ntitle: T\n" + content})


@given(edits)
@settings(max_examples=400, derandomize=True)
def test_a_file_with_pieces_cut_and_put_in(changes: list[tuple[int, int, str]]) -> None:
    _only_library_errors({"full.yaml": edited(changes)})


@given(edits)
@settings(max_examples=150, derandomize=True)
def test_both_parsers_agree(changes: list[tuple[int, int, str]]) -> None:
    """Both accept the same texts, and where they do, or the mistake is not one of syntax, say the same."""
    text = edited(changes)
    fast = read_texts({"full.yaml": text}, loader=FAST_LOADER)
    slow = read_texts({"full.yaml": text}, loader=SAFE_LOADER)
    assert (fast.library is None) == (slow.library is None)
    if not any(problem.rule == "syntax" for problem in (*fast.problems, *slow.problems)):
        assert fast.problems == slow.problems


Tree = str | dict[str, Any]


def _several(inner: st.SearchStrategy[Tree]) -> st.SearchStrategy[list[Tree]]:
    return st.lists(inner, min_size=1, max_size=4)


operands: st.SearchStrategy[Tree] = st.recursive(
    st.sampled_from(["c", "a/d"]),
    lambda inner: st.one_of(
        st.builds(lambda kind, of: {kind: of}, st.sampled_from(["all", "any", "none", "one_of"]), _several(inner)),
        st.builds(lambda one: {"not": one}, inner),
        _several(inner).flatmap(
            lambda of: st.builds(lambda k: {"at_least": {"count": k, "of": of}}, st.integers(1, len(of)))
        ),
    ),
    max_leaves=12,
)


def _modelled(tree: Tree) -> Operand:
    """What the model should hold for an operand."""
    if isinstance(tree, str):
        return Ref(f"a/{tree.removeprefix('a/')}")
    ((kind, inner),) = tree.items()
    if kind == "not":
        return Gate("not", (_modelled(inner),))
    if kind == "at_least":
        return Gate("at_least", tuple(_modelled(one) for one in inner["of"]), inner["count"])
    return Gate(kind, tuple(_modelled(one) for one in inner))  # type: ignore[arg-type]  # drawn from the four gates


@given(operands)
@settings(max_examples=200, derandomize=True)
def test_any_operand_is_read_as_it_is_written(tree: Tree) -> None:
    """Gates within gates; JSON is YAML, so Python's own writer says how they are written."""
    library = loaded(
        "causes:\n  c: {title: C, probability: 0.1}\n  d: {title: D, probability: 0.1}\n"
        f"signals:\n  s:\n    title: S\n    follows: {json.dumps(tree)}\n"
    )
    assert library.signals["a/s"].follows == _modelled(tree)
