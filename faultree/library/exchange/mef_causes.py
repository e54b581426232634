"""Turns the basic events of an Open-PSA model into causes and items of a tree file, as plain data."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from faultree.library.exchange.mef_expressions import Calculator, Value, exponential
from faultree.library.exchange.mef_model import Declared, kept
from faultree.library.exchange.mef_own import Restored, restored
from faultree.library.exchange.mef_scopes import NO_FIGURE
from faultree.library.starter import title_from
from faultree.library.values import shown

MOST_RATE = 1_000.0
MOST_HOURS = 1e9
"""Largest rate and time that a cause of a tree file can have."""


@dataclass
class Found:
    """The causes with their ids and declarations, the items by id, and what a reader should know."""

    entries: list[tuple[str, dict[str, Any], Declared]] = field(default_factory=list)
    items: dict[str, dict[str, Any]] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)


def causes(
    events: Sequence[Declared],
    ids: Mapping[tuple[str, ...], str],
    calculator: Calculator,
    likelihood: str | float | None,
) -> Found:
    """The causes of basic events; `likelihood` is that of events without an expression, None where there is none."""
    found = Found()
    computed = bare = 0
    for one in events:
        figures = _figures(one, calculator, likelihood)
        computed += "x-expression" in figures
        bare += not one.body
        found.entries.append((ids[one.path], _cause(one, figures, found.items), one))
    if bare and likelihood is not None:
        found.notes.append(f"Without a figure, and given the likelihood {likelihood}: {_events(bare)}.")
    if computed:
        found.notes.append(
            f"Computed from an expression, which is kept beside it as x-expression: {_events(computed)}."
        )
    return found


def _events(count: int) -> str:
    return f"{count} basic event{'' if count == 1 else 's'}"


def _cause(one: Declared, figures: Mapping[str, Any], items: dict[str, dict[str, Any]]) -> dict[str, Any]:
    back = restored(one.attributes, figures.get("probability"))
    fields = dict(back.cause)
    stated = {key: value for key, value in figures.items() if not (key == "probability" and "likelihood" in fields)}
    entry: dict[str, Any] = {"title": one.label or title_from(one.name) or one.name}
    left = back.left
    if back.item and _fits(back, items):
        entry["item"] = back.item["id"]
    elif back.item:
        left = one.attributes
        fields = {}
    if left:
        stated["x-attributes"] = kept(left)
    return {**entry, **stated, **fields}


def _fits(back: Restored, items: dict[str, dict[str, Any]]) -> bool:
    """Whether an item is the one that stands there under its id; a new one is put there."""
    fields = {key: value for key, value in back.item.items() if key != "id"}
    return items.setdefault(back.item["id"], fields) == fields


def _figures(one: Declared, calculator: Calculator, likelihood: str | float | None) -> dict[str, Any]:
    """How likely an event is, as a cause says it; empty after a problem is noted."""
    if not one.body:
        if likelihood is None:
            calculator.scopes.model.note(one.element, f"{one.called} has no probability", f"add it, or {NO_FIGURE}")
            return {}
        return {"likelihood" if isinstance(likelihood, str) else "probability": likelihood}
    value = calculator.value(one.body[0], one.scope)
    if value is None or not _possible(one, value, calculator):
        return {}
    found = _rate(value)
    computed = not all(part.plain for part in value.operands) if "rate" in found else not value.plain
    return {**found, "x-expression": value.text} if computed else found


def _possible(one: Declared, value: Value, calculator: Calculator) -> bool:
    """Whether a cause can have this probability: one that is certain or impossible is no fault."""
    if 0.0 < value.number < 1.0:
        return True
    message = f"the probability of {one.called} is {shown(value.text)}"
    message += "" if value.plain else f" = {value.number:g}"
    hint = "it must be above 0 and below 1"
    if value.number in (0.0, 1.0):
        constant = "true" if value.number else "false"
        hint += f'; what is always {constant} is a house event with <constant value="{constant}"/>'
    calculator.scopes.model.note(one.body[0], message, hint)
    return False


def _rate(value: Value) -> dict[str, Any]:
    """A rate over hours where a tree file can say it so, else the probability."""
    if value.operator == "exponential":
        rate, hours = (one.number for one in value.operands)
        if 0 < rate <= MOST_RATE and 0 < hours <= MOST_HOURS and 0 < exponential(rate, hours) < 1:
            return {"rate": rate, "hours": hours}
    return {"probability": value.number}
