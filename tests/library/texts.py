"""Short ways for tests to write tree files and to see what is wrong with them."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from _pytest.mark.structures import ParameterSet

from faultree.library.load import read_texts
from faultree.library.marked import FAST_LOADER
from faultree.library.model import Library

HEAD = "faultree: 1\ntitle: T\n"
"""What a test's file begins with, so that its own first line is line 3."""

BROKEN = Path(__file__).with_name("broken")


class Broken(NamedTuple):
    """A mistake: the fragment of a tree file that makes it, and every message that it must give."""

    fragment: str
    messages: list[str]


def broken(table: str) -> list[ParameterSet]:
    """The mistakes in one file of `broken/`: `=== name`, the fragment, `---`, the messages, again and again."""
    parts = re.split(r"^=== (.+)\n", (BROKEN / f"{table}.txt").read_text(encoding="utf-8"), flags=re.MULTILINE)
    cases = []
    for name, body in zip(parts[1::2], parts[2::2], strict=True):
        fragment, messages = body.split("---\n", 1)
        cases.append(pytest.param(Broken(fragment, [line for line in messages.split("\n") if line]), id=name))
    return cases


def problems(*fragments: str | bytes, loader: type[Any] = FAST_LOADER) -> list[str]:
    """What is wrong with files a.yaml, b.yaml, ..., each a head and a fragment, or just the bytes given."""
    texts = {f"{name}.yaml": _whole(text) for name, text in zip("abcdef", fragments, strict=False)}
    return [str(problem) for problem in read_texts(texts, loader=loader).problems]


def loaded(*fragments: str) -> Library:
    """The library of files a.yaml, b.yaml, ..., each a head and a fragment; fails when something is wrong."""
    texts = {f"{name}.yaml": _whole(text) for name, text in zip("abcdef", fragments, strict=False)}
    reading = read_texts(texts)
    assert reading.library is not None, "\n".join(str(problem) for problem in reading.problems)
    return reading.library


def _whole(text: str | bytes) -> str | bytes:
    return HEAD + text if isinstance(text, str) else text
