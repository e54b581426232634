"""Turns one column of a dependency matrix into a check of a tree file and the nodes that it reads."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from faultree.base.problem import Problem
from faultree.base.words import listing
from faultree.library.exchange.matrix_layout import BETWEEN, NO, USUAL, YES
from faultree.library.exchange.matrix_values import Cell, chance, minutes, truth
from faultree.library.exchange.mef_names import Taken, new_id
from faultree.library.starter import title_from
from faultree.library.values import is_id, shown

WHO = ("crew", "line", "shop")


class Column(NamedTuple):
    """A column: the id of the check, its head, what is said about it by row, and what each cause (by id) shows."""

    name: str
    head: Cell
    about: Mapping[str, Cell]
    shows: Mapping[str, Cell]

    def text(self, row: str) -> str:
        """What stands in a row about checks, as one line."""
        return " ".join(self.about[row].text.split()) if row in self.about else ""

    @property
    def title(self) -> str:
        """What the check is called."""
        return self.text("title") or title_from(self.head.text) or self.name


class Made(NamedTuple):
    """A check as plain data, the nodes that it needs by section and id, and the texts of its cautions."""

    entry: dict[str, Any]
    nodes: dict[str, dict[str, Any]]
    cautions: tuple[str, ...]


def check_of(column: Column, taken: Taken, problems: list[Problem], notes: list[str]) -> Made:
    """The check of a column; a column that is the same in every row is a problem, for it tells nothing."""
    entry: dict[str, Any] = {"title": column.title}
    entry |= {key: column.text(key) for key in ("ask", "manual", "note") if column.text(key)}
    if column.text("situation"):
        entry["x-situation"] = column.text("situation")
    if column.name != column.head.text:
        entry["x-name"] = column.head.text
    nodes: dict[str, dict[str, Any]] = {}
    words = [cell for cell in (*column.shows.values(), *_usual(column)) if cell.text]
    other = [cell for cell in words if cell.text.casefold() not in (*YES, *NO)]
    told = bool(column.text("answers"))
    if other and len(other) < len(words) and not told:
        problems += [_mixed(cell, words) for cell in other]
    several = told or bool(other)
    entry |= _several(column, problems, notes) if several else _two(column, taken, nodes, problems)
    entry |= _work(column, problems)
    texts = (
        [part.strip() for part in column.about["cautions"].text.split(BETWEEN.strip())]
        if "cautions" in column.about
        else []
    )
    return Made(entry, nodes, tuple(text for text in texts if text))


def _usual(column: Column) -> Sequence[Cell]:
    return [column.about[USUAL]] if USUAL in column.about else []


def _mixed(cell: Cell, words: Sequence[Cell]) -> Problem:
    """A word beside yes and no: most likely a slip, which must not become an answer of its own."""
    plain = next(one.text for one in words if one.text.casefold() in (*YES, *NO))
    hint = "write yes or no there too, or list all answers of the check in a row (answers)"
    return cell.problem(f"'{shown(cell.text)}' stands in one column with '{shown(plain)}'", hint)


def _work(column: Column, problems: list[Problem]) -> dict[str, Any]:
    """The time of a check, who makes it and with what."""
    found: dict[str, Any] = {}
    time = minutes(column.about["minutes"], problems) if "minutes" in column.about else None
    if time is not None:
        found["minutes"] = time
    by = column.text("by").casefold()
    if by and by not in WHO:
        problems.append(column.about["by"].problem(f"'{shown(by)}' can answer no check", f"write {listing(WHO, 'or')}"))
    tools = [part.strip() for part in column.text("tools").split(BETWEEN.strip()) if part.strip()]
    return found | ({"by": by} if by else {}) | ({"tools": tools} if tools else {})


def _same(column: Column, problems: list[Problem]) -> dict[str, Any]:
    hint = "write what shows a cause, or remove the column"
    problems.append(column.head.problem(f"the check '{shown(column.head.text)}' shows the same for each cause", hint))
    return {}


# ---- yes or no


def _two(column: Column, taken: Taken, nodes: dict[str, dict[str, Any]], problems: list[Problem]) -> dict[str, Any]:
    """A question: it reads the only cause that is otherwise, an event of several, or a signal that they take away."""
    usual = truth(column.about[USUAL], False, problems) if USUAL in column.about else False
    other = [cause for cause, cell in column.shows.items() if truth(cell, usual, problems) != usual]
    if not other:
        return _same(column, problems)
    reads = other[0]
    if usual:
        reads = taken.free(f"{column.name}-as-usual")
        nodes["signals"] = {reads: {"title": f"as usual: {column.title}", "lost_if": other}}
    elif len(other) > 1:
        reads = taken.free(f"{column.name}-seen")
        nodes["events"] = {reads: {"title": f"something to be seen: {column.title}", "any": other}}
    found: dict[str, Any] = {"reads": reads}
    found |= {key: column.text(key) for key in ("yes", "no") if column.text(key)}
    return found | _errors(column, ("false_yes", "false_no"), problems)


def _errors(column: Column, keys: Sequence[str], problems: list[Problem]) -> dict[str, Any]:
    """How often the answer is wrong, as far as it is said."""
    values = {key: chance(column.about[key], problems) for key in keys if key in column.about}
    return {key: value for key, value in values.items() if value is not None}


# ---- several answers


def _several(column: Column, problems: list[Problem], notes: list[str]) -> dict[str, Any]:
    """A check with answers; each holds where one of its causes is present and none of an answer before it."""
    told = dict(_told(column))
    usual = column.text(USUAL)
    causes: dict[str, list[str]] = {word: [] for word in told}
    for cause, cell in column.shows.items():
        word = " ".join(cell.text.split())
        if told and word and word not in told:
            problems.append(cell.problem(f"'{shown(word)}' is none of the answers", f"write {listing(told, 'or')}"))
        if word and word != usual:
            causes.setdefault(word, []).append(cause)
    shown_by = {word: of for word, of in causes.items() if of and word != usual}
    silent = [word for word, of in causes.items() if not of and word != usual]
    if silent:
        notes.append(f"Answers of '{column.title}' that no cause gives, left out: {listing(silent)}.")
    if not shown_by:
        return _same(column, problems)
    return {"answers": _answers(shown_by, usual, told)} | _errors(column, ("error",), problems)


def _told(column: Column) -> list[tuple[str, str]]:
    """The answers in the order in which they are told, each with its text: `id: text | id: text`."""
    parts = [part.strip() for part in column.text("answers").split(BETWEEN.strip())]
    pairs = [part.partition(":") for part in parts if part]
    return [(word.strip(), text.strip() or word.strip()) for word, _, text in pairs]


def _answers(shown_by: Mapping[str, list[str]], usual: str, told: Mapping[str, str]) -> dict[str, Any]:
    ids = Taken(word for word in (*shown_by, usual) if is_id(word))
    found: dict[str, Any] = {}
    before: list[str] = []
    for word, causes in shown_by.items():
        name = word if is_id(word) else ids.free(new_id(word, "answer"))
        here: Any = causes[0] if len(causes) == 1 else {"any": causes}
        when = {"all": [here, {"none": list(before)}]} if before else here
        found[name] = {"text": told.get(word, word), "when": when}
        before += causes
    name = usual if is_id(usual) else ids.free(new_id(usual, "usual") if usual else "usual")
    found[name] = {"text": told.get(usual, usual) or "as usual", "when": "otherwise"}
    return found
