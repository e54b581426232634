"""Puts the parser's own complaints into words that a person who writes YAML by hand can use."""

from __future__ import annotations

from typing import Any, NamedTuple

import yaml

from faultree.base.problem import Place, Problem
from faultree.library.values import shown

_FIT = "line it up with the others of its group, and check the quotes and indentation of the line above"
_ESCAPE = "write '\\\\' for a backslash, or use single quotes"


class _Saying(NamedTuple):
    """Our words for a complaint that holds `part`; `begins` places it where the parser's context began."""

    part: str
    message: str
    hint: str
    begins: bool = False


_SAYINGS = (
    _Saying(
        "mapping values are not allowed",
        "a ':' is not expected here",
        "put a text that holds ': ' in quotes, a mapping on one line in '{ }', or check the indentation",
    ),
    _Saying("sequence entries are not allowed", "a '-' is not expected here", "begin the list on a line of its own"),
    _Saying("nesting depth", "nested too deep", "split it into signals or events"),
    _Saying(
        "<document start>",
        "this does not belong to what stands above",
        "begin every section of the file in column 1",
    ),
    # Only the parser in Python stumbles over this.
    _Saying("but got '?'", "a '?' is not expected here", "put a text that holds '?' between brackets in quotes"),
    _Saying("node content", "a value is missing here", "remove the extra comma, or write the value"),
    _Saying(
        "flow sequence",
        "the list that begins here is not complete",
        "put commas between its entries, ']' at its end, and a text that holds ', ' in quotes",
        begins=True,
    ),
    _Saying(
        "flow mapping",
        "the mapping that begins here is not complete",
        "put commas between its pairs, '}' at its end, and a text that holds ': ' or ', ' in quotes",
        begins=True,
    ),
    _Saying(
        "simple key",
        "this line has no ':'",
        "write it as 'key: value', or put a text of several lines in quotes",
        begins=True,
    ),
    _Saying("block mapping", "this does not fit the keys above, which begin in column {column}", _FIT),
    _Saying("block collection", "this does not fit the list above, which begins in column {column}", _FIT),
    _Saying("directive", "a line cannot begin with '%'", "put the text in quotes"),
)
"""The first that fits counts; what the parser says of the place comes before what it says of the context."""


def syntax_problem(error: yaml.YAMLError, text: str, file: str) -> Problem:
    """The problem for an error of the parser, whichever of the two parsers raised it."""
    problem: str = getattr(error, "problem", None) or ""
    context: str = getattr(error, "context", None) or ""
    here = getattr(error, "problem_mark", None)
    begin = getattr(error, "context_mark", None) or here
    mark, message, hint = _words(context, problem, here, begin, text)
    place = Place(file, mark.line + 1, mark.column + 1) if mark is not None else Place(file)
    return Problem(place, message, hint, rule="syntax")


def _words(context: str, problem: str, here: Any, begin: Any, text: str) -> tuple[Any, str, str]:
    """(mark, message, hint): the mark is where the mistake began, where the parser knows that."""
    if "cannot start any token" in problem:
        return here, *_first_character(_character(text, here))
    if "quoted scalar" in context:
        return _quoted(problem, here, begin)
    for saying in _SAYINGS:
        if saying.part in problem or saying.part in context:
            mark = begin if saying.begins else here
            return mark, saying.message.format(column=begin.column + 1 if begin else 1), saying.hint
    reason = shown(problem or context or "no reason given", 80)
    return here or begin, f"this is no YAML ({reason})", _FIT


def _quoted(problem: str, here: Any, begin: Any) -> tuple[Any, str, str]:
    if "end of stream" in problem or "document" in problem:
        return begin, "the quote that opens here is never closed", "close it with the same quote"
    return here, "a quoted text holds an escape that is no character", _ESCAPE


def _character(text: str, mark: Any) -> str:
    lines = text.splitlines()
    line = lines[mark.line] if mark.line < len(lines) else ""
    return line[mark.column : mark.column + 1]


def _first_character(character: str) -> tuple[str, str]:
    if character == "\t":
        return "a tab is used to indent", "indent with spaces"
    return f"a text cannot begin with '{shown(character)}'", "put it in quotes"
