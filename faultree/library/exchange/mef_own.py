"""What faultree keeps of a cause in the attributes of an Open-PSA basic event, and gives back when it reads them.

The format has no item whose faults exclude each other, no repair time and no ordinal likelihood.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from faultree.library.exchange.mef_model import Attribute
from faultree.library.model import BANDS, Cause, Item
from faultree.library.values import control, is_id, number

PREFIX = "faultree-"
"""How the names of these attributes begin."""

ITEM = f"{PREFIX}item"
BAND = f"{PREFIX}likelihood"


class Field(NamedTuple):
    """A field that an attribute carries: its key in a tree file, and how its text is read (None where it is none)."""

    key: str
    read: Callable[[str], Any]


def _line(text: str) -> str | None:
    return text if text.strip() and control(text) is None and "\n" not in text else None


def _minutes(text: str) -> float | None:
    value = number(text)
    return value if value is not None and 0 <= value <= 100_000 else None


ITEM_FIELDS: Mapping[str, Field] = {
    f"{ITEM}-title": Field("title", _line),
    f"{ITEM}-place": Field("place", _line),
    f"{ITEM}-manual": Field("manual", _line),
    f"{ITEM}-minutes": Field("minutes", _minutes),
}
CAUSE_FIELDS: Mapping[str, Field] = {
    f"{PREFIX}manual": Field("manual", _line),
    f"{PREFIX}note": Field("note", _line),
    f"{PREFIX}minutes": Field("minutes", _minutes),
}


def attributes_of(cause: Cause, item: Item | None, item_id: str) -> list[Attribute]:
    """The attributes that carry a cause's fields, and those of its item, which goes by `item_id`."""
    found: dict[str, Any] = {}
    if cause.likelihood.band is not None:
        found[BAND] = cause.likelihood.band
    if item is not None:
        found[ITEM] = item_id
    for table, entry in ((ITEM_FIELDS, item), (CAUSE_FIELDS, cause)):
        for name, field in table.items():
            if entry is not None and not (field.key == "minutes" and entry is cause and item is not None):
                found[name] = getattr(entry, field.key)
    return [Attribute(name, _shown(value)) for name, value in found.items() if value not in ("", None)]


def _shown(value: Any) -> str:
    return f"{value:.12g}" if isinstance(value, float) else " ".join(str(value).split())


class Restored(NamedTuple):
    """What the attributes of one event give back: the fields of its cause, its item's, and what is none of ours."""

    cause: Mapping[str, Any]
    item: Mapping[str, Any]
    left: tuple[Attribute, ...]


def restored(attributes: tuple[Attribute, ...], probability: float | None) -> Restored:
    """The fields that attributes carry. What does not read as such a field, or does not fit, is left as it is.

    >>> restored((Attribute("faultree-item", "pump"), Attribute("maker", "X")), 0.1).item
    {'id': 'pump', 'title': 'pump'}
    """
    values = {one.name: one.value for one in attributes}
    item: dict[str, Any] = {}
    cause: dict[str, Any] = {}
    taken: set[str] = set()
    if is_id(values.get(ITEM, "")):
        item = {"id": values[ITEM], "title": values[ITEM]}
        taken.add(ITEM)
        taken |= _take(ITEM_FIELDS, values, item)
    taken |= _take(
        {name: one for name, one in CAUSE_FIELDS.items() if not (item and one.key == "minutes")}, values, cause
    )
    if probability is not None and BANDS.get(values.get(BAND, "")) == probability:
        cause["likelihood"] = values[BAND]
        taken.add(BAND)
    return Restored(cause, item, tuple(one for one in attributes if one.name not in taken))


def _take(table: Mapping[str, Field], values: Mapping[str, str], into: dict[str, Any]) -> set[str]:
    taken = set()
    for name, field in table.items():
        value = field.read(values[name]) if name in values else None
        if value is not None:
            into[field.key] = value
            taken.add(name)
    return taken
