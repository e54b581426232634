"""Writes plain data as a tree file in the layout of the format, and makes sure that it reads."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from faultree.base.problem import Place, Problem
from faultree.library.commented import Leaf
from faultree.library.leaves import on_one_line
from faultree.library.load import MOST_PROBLEMS, read_texts
from faultree.library.marked import MAX_BYTES
from faultree.library.values import NOTHING, flag
from faultree.library.writer import write

Plain = Mapping[str, Any]


class Imported(NamedTuple):
    """What an import gave: the text of a tree file, or None and all that is wrong; and what a reader should know."""

    text: str | None
    problems: tuple[Problem, ...] = ()
    notes: tuple[str, ...] = ()


class Exported(NamedTuple):
    """The text of a file for another program, and what whoever takes it should know."""

    text: str
    notes: tuple[str, ...] = ()


def listed(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Each problem once, by its place; of very many only the first ones."""
    found = sorted(set(problems))
    if len(found) <= MOST_PROBLEMS:
        return tuple(found)
    last = Problem(found[MOST_PROBLEMS].place, "more problems from here on", "mend those above first", rule="exchange")
    return (*found[:MOST_PROBLEMS], last)


def tree_text(data: Plain, system: str, source: str, notes: Sequence[str] = ()) -> Imported:
    """The tree file `system` that says what `data` does; `source` is the file that it came from.

    >>> print(tree_text({"faultree": 1, "title": "Lamps", "causes": {}}, "lamps", "f.xml").text, end="")
    faultree: 1
    title: Lamps
    """
    rough = "".join(_section(key, value) for key, value in data.items() if value not in ({}, [], ""))
    name = f"{system}.yaml"
    found = write(rough, name)
    problems = found.problems if found.text is None else read_texts({name: found.text}).problems
    size = len((found.text or rough).encode("utf-8", "replace"))
    if size > MAX_BYTES:
        message = f"the tree file would have {size:,} bytes; at most {MAX_BYTES:,} are read"
        return Imported(None, (Problem(Place(source), message, "split the model", rule="exchange"),))
    if found.text is None or problems:
        return Imported(None, tuple(_blamed(one, source) for one in problems))
    return Imported(found.text, (), tuple(notes))


def _blamed(problem: Problem, source: str) -> Problem:
    """A problem of the tree file that would be written, told of the file that it came from."""
    message = f"the tree file made of it would not read (its line {problem.place.line}): {problem.message}"
    return Problem(Place(source), message, problem.hint, rule="exchange")


def _section(key: str, value: Any) -> str:
    if not isinstance(value, Mapping):
        return f"{_text(key)}: {_flow(value)}\n"
    entries = "".join(f"  {_text(name)}: {_flow(inner)}\n" for name, inner in value.items())
    return f"{_text(key)}:\n{entries}"


def _flow(value: Any) -> str:
    """A value in brackets; what does not fit on its line is laid out by the writer."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return repr(value).removesuffix(".0")
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_text(key)}: {_flow(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return "[" + ", ".join(map(_flow, value)) + "]"
    return _text(str(value))


_BARE = re.compile(r"[^\W\d_](?:[\w ()/.%+'?!-]*[\w)%.?!])?")


def _text(text: str) -> str:
    """A text as it stands where it can be taken for nothing else, else in quotes."""
    if _BARE.fullmatch(text) and text not in NOTHING and flag(text) is None and text.lower() not in ("y", "n"):
        return text
    if re.fullmatch("[ -~\u00a1-\u02ff\u0370-\u1fff\u4e00-\u9fff]*", text):
        return "'" + text.replace("'", "''") + "'"
    return on_one_line(Leaf(text, "", "|"))
