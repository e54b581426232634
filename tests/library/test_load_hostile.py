"""Text that is made to cost time or memory costs about as much as honest text of the same size."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator
from time import process_time

import pytest

from faultree.library.load import MOST_PROBLEMS, read_texts
from tests.benchmarks.bench_load import tree_text
from tests.library.texts import HEAD

SIZE = 200_000
"""Characters of each text."""
FACTOR = 20
"""How many times longer than an honest text a hostile one may take; most take a tenth of it."""


def _filled(unit: str, head: str = "", end: str = "") -> str:
    return head + unit * ((SIZE - len(head)) // len(unit)) + end


def _numbered(unit: str, head: str = "", end: str = "") -> str:
    count = (SIZE - len(head)) // (len(unit) + 3)
    return head + "".join(unit.replace("#", str(n)).replace("@", str((n + 1) % count)) for n in range(count)) + end


CAUSE = "causes:\n  c: {title: C, probability: 0.1}\nsymptoms:\n  y: {title: Y, event: c}\n"
ANSWERS = "".join(f"      a{n}: {{text: A, when: c}}\n" for n in range(2000))

HOSTILE: dict[str, Callable[[], str]] = {
    "open brackets": lambda: _filled("["),
    "open braces": lambda: _filled("{a: "),
    "dashes": lambda: _filled("- "),
    "questions": lambda: _filled("? "),
    "indentation": lambda: "".join(f"{' ' * n}a:\n" for n in range(600)),
    "quotes": lambda: _filled('"'),
    "commas": lambda: _filled(",", "["),
    "colons": lambda: _filled(":"),
    "spaces": lambda: _filled(" ", end="a: b"),
    "comments": lambda: _filled("#\n"),
    "a long word": lambda: _filled("crew", "checks:\n  a: {by: ", "}"),
    "a long number": lambda: _filled("1", f"{HEAD}causes:\n  c: {{title: C, probability: ", "}"),
    "a long id": lambda: _filled("a", f"{HEAD}causes:\n  c: {{title: C, probability: 0.1, item: ", "}"),
    "aliases": lambda: _numbered("a#: &a# [*a#, *a#, *a#]\n"),
    "documents": lambda: _filled("---\n"),
    "one key again and again": lambda: _filled("a: 1\n"),
    "keys that are nearly right": lambda: _numbered("titel#: 1\n"),
    "words that are keys": lambda: _filled("a b,", "{"),
    "ids that are nearly right": lambda: _numbered(
        "w#,\n", HEAD + _numbered("  c#: {title: C, likelihood: remote}\n", "causes:\n") + "events:\n  e: {any: [", "]}"
    ),
    "a chain": lambda: _numbered("  s#: {title: S, follows: s@}\n", f"{HEAD}signals:\n"),
    "a complete graph": lambda: (
        HEAD
        + "events:\n"
        + "".join(f"  s{n}: {{title: S, any: [{', '.join(f's{m}' for m in range(180))}]}}\n" for n in range(180))
    ),
    "a chain of situations": lambda: _numbered(
        "  s#: {title: S, extends: s@, sets: {c#: yes}}\n",
        HEAD + _numbered("  c#: {title: C}\n", "conditions:\n") + "situations:\n  s0: {title: S}\n",
    ),
    "answers that a check does not have": lambda: _numbered(
        "- {title: E, symptom: y, answers: {k: b#}, expect: {first: c}}\n",
        f"{HEAD}{CAUSE}checks:\n  k:\n    title: K\n    answers:\n{ANSWERS}examples:\n",
    ),
}


@pytest.fixture(scope="module", autouse=True)
def alone() -> Iterator[None]:
    """What other tests left in memory is not looked through again and again while the time is taken."""
    gc.collect()
    gc.freeze()
    yield
    gc.unfreeze()


@pytest.fixture(scope="module")
def honest() -> float:
    """Seconds that an honest text of the same size takes, on this machine and in this hour."""
    text = tree_text(11_000)
    assert SIZE * 0.9 < len(text) < SIZE * 1.1
    begin = process_time()
    read_texts({"a.yaml": text})
    return process_time() - begin


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_text_is_dealt_with_quickly(name: str, honest: float) -> None:
    """No time that grows with the square, no recursion, no work that is multiplied, and short messages."""
    text = HOSTILE[name]()
    begin = process_time()
    library, problems = read_texts({"a.yaml": text})
    assert process_time() - begin < FACTOR * honest
    assert library is None
    assert len(problems) <= MOST_PROBLEMS + 1
    assert all(len(str(problem)) < 800 for problem in problems)
