"""Somebody's own fixed order of checks, read from a YAML list, with every problem of it in one run."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import NamedTuple

from faultree.base.errors import UnknownName
from faultree.base.problem import Place, Problem
from faultree.base.words import listing
from faultree.library.documents import Content
from faultree.library.marked import Array, Node, Scalar, parse
from faultree.library.model import Library, Who, find
from faultree.library.values import shown
from faultree.strategy.chart.value import Action, Goal

FORM = "write a list of check ids, a line '- CHECK' for each"


class Made(NamedTuple):
    """One entry of the list: a check, or (goal `restore`) a unit replaced; `target` is its full id."""

    action: Action
    target: str


class Handout(NamedTuple):
    """The order as it was read; empty where there are problems."""

    order: tuple[Made, ...]
    problems: tuple[Problem, ...]


def read_handout(
    library: Library, text: str, file: str, goal: Goal = "item", by: Collection[Who] = ("crew", "line", "shop")
) -> Handout:
    """The order that a text gives; `file` is what problems call it.

    Ids may be short where that is clear. With the goal `restore` an entry may also be an item, or a cause without
    one: it is replaced or put right there, and the operational check repeated.
    """
    marked = parse(text, file)
    if marked.problems:
        return Handout((), marked.problems)
    if not isinstance(marked.root, Array) or not marked.root.entries:
        return Handout((), (Problem(Place(file, 1, 1), "this is no list of checks", FORM, rule="shape"),))
    reader = _Reader(library, file, goal, frozenset(by))
    entries = [one for node in marked.root.entries for one in reader.entry(node)]
    problems = tuple(one for one in entries if isinstance(one, Problem))
    return Handout(() if problems else tuple(one for one in entries if isinstance(one, Made)), problems)


def read_text(file: str, content: Content) -> str | Problem:
    """The text of what was read from a file, or the problem with it."""
    if not isinstance(content, bytes):
        return content
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return Problem(Place(file), "this is no UTF-8 text", FORM, rule="file")


class _Reader:
    """Reads the entries of one list and remembers where each stood first."""

    def __init__(self, library: Library, file: str, goal: Goal, by: frozenset[Who]) -> None:
        self.library, self.file, self.goal, self.by = library, file, goal, by
        self.lines: dict[str, int] = {}

    def entry(self, node: Node) -> Iterator[Made | Problem]:
        place = Place(self.file, node.line, node.column)
        if not isinstance(node, Scalar):
            yield Problem(place, "this entry is no check id", FORM, rule="shape")
            return
        try:
            made = self._meant(node.text.strip())
        except UnknownName as error:
            yield Problem(place, *(self._item(node.text.strip()) or _unknown(error)), rule="reference")
            return
        yield from self._again(made, place)
        yield from self._not_theirs(made, place)
        yield made

    def _meant(self, name: str) -> Made:
        units = self._units() if self.goal == "restore" else {}
        table = {**self.library.checks, **units}
        found = find("check or item" if units else "check", table, name)
        return Made("check" if found in self.library.checks else "replace", found)

    def _item(self, name: str) -> tuple[str, str] | None:
        """Message and remedy where a name is no check but something that a chart of another goal puts right."""
        try:
            unit = find("item", self._units(), name)
        except UnknownName:
            return None
        what = "an item" if unit in self.library.items else "a cause"
        message = f"'{unit}' is {what}, and nothing is put right in a chart with the goal {self.goal}"
        return message, "write a check there, or compile the chart with --goal restore"

    def _units(self) -> dict[str, object]:
        loose = {name: cause for name, cause in self.library.causes.items() if cause.item is None}
        used = {cause.item for cause in self.library.causes.values()}
        return {**{name: item for name, item in self.library.items.items() if name in used}, **loose}

    def _again(self, made: Made, place: Place) -> Iterator[Problem]:
        first = self.lines.setdefault(made.target, place.line)
        if first != place.line:
            what = "asked again, a check is no new evidence" if made.action == "check" else "once is enough"
            yield Problem(place, f"'{made.target}' stands in line {first} already; {what}", "remove one of them")

    def _not_theirs(self, made: Made, place: Place) -> Iterator[Problem]:
        if made.action == "check" and self.library.checks[made.target].by not in self.by:
            who = self.library.checks[made.target].by
            message = f"'{made.target}' is a check for the {who}, and this chart is for {listing(sorted(self.by))} only"
            yield Problem(place, message, "remove it, or compile the chart without --by")


def _unknown(error: UnknownName) -> tuple[str, str]:
    """Message and remedy for a name that is unknown, or stands for more than one thing."""
    name, candidates = shown(error.name), [f"'{one}'" for one in error.candidates]
    if error.ambiguous:
        return f"'{name}' is the short id of more than one {error.kind}", f"write {listing(candidates, 'or')}"
    remedy = f"did you mean {listing(candidates, 'or')}?" if candidates else "'faultree rank SYMPTOM --json' lists them"
    return f"unknown {error.kind} '{name}'", remedy
