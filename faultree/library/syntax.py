"""Puts the parser's own complaints into words that a person who writes YAML by hand can use."""

from __future__ import annotations

from typing import Any

import yaml

from faultree.base.problem import Place, Problem
from faultree.library.values import shown

_FIT = "line it up with the others of its group, and check the quotes and indentation of the line above"
_ESCAPE = "write '\\\\' for a backslash, or use single quotes"


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
    if "mapping values are not allowed" in problem:
        return here, "a ':' is not expected here", "put a text that holds ': ' in quotes, or check the indentation"
    if "cannot start any token" in problem:
        return here, *_first_character(_character(text, here))
    if "quoted scalar" in context:
        return _quoted(problem, here, begin)
    if "flow sequence" in context:
        return begin, "the list that begins here is not complete", "put commas between its entries and ']' at its end"
    if "flow mapping" in context:
        return begin, "the mapping that begins here is not complete", "put commas between its pairs and '}' at its end"
    if "simple key" in context:
        return begin, "this line has no ':'", "write it as 'key: value', or put a text of several lines in quotes"
    if "block mapping" in context:
        return here, f"this does not fit the keys above, which begin in column {begin.column + 1}", _FIT
    if "block collection" in context:
        return here, f"this does not fit the list above, which begins in column {begin.column + 1}", _FIT
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
