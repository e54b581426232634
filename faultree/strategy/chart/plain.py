"""Reads plain data (from JSON or YAML) field by field, and says which field is wrong and what it should be."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from faultree.base.errors import ChartError
from faultree.base.words import did_you_mean, listing


@dataclass(frozen=True, slots=True)
class Record:
    """A mapping of plain data; `where` names it in messages.

    >>> Record({"minutes": "x"}, "node 3").number("minutes")
    Traceback (most recent call last):
    faultree.base.errors.ChartError: node 3: 'minutes' is 'x'; it must be a number of 0 or more
    """

    data: Mapping[str, object]
    where: str

    def refuse(self, key: str, wanted: str) -> ChartError:
        """The error for a field that is missing or is not what is wanted."""
        if key not in self.data:
            return ChartError(f"{self.where}: '{key}' is missing; it must be {wanted}")
        return ChartError(f"{self.where}: '{key}' is {str(self.data[key])[:60]!r}; it must be {wanted}")

    def text(self, key: str) -> str:
        """A text."""
        value = self.data.get(key)
        if not isinstance(value, str):
            raise self.refuse(key, "a text")
        return value

    def text_or_none(self, key: str) -> str | None:
        """A text, or nothing (null)."""
        return None if key in self.data and self.data[key] is None else self.text(key)

    def choice(self, key: str, options: Iterable[str]) -> str:
        """One of some words."""
        known = tuple(options)
        value = self.data.get(key)
        if not isinstance(value, str) or value not in known:
            raise self.refuse(key, f"one of {listing(known, 'or')}")
        return value

    def name(self, key: str, table: Iterable[str], kind: str) -> str:
        """A full id that the library knows."""
        return self._known(key, self.text(key), table, kind)

    def _known(self, key: str, value: str, table: Iterable[str], kind: str) -> str:
        known = table if isinstance(table, Mapping | frozenset) else frozenset(table)
        if value not in known:
            remedy = did_you_mean(value, known, "the library does not hold it")
            raise ChartError(f"{self.where}: '{key}' names the unknown {kind} '{value}'; {remedy}")
        return value

    def number(self, key: str, most: float = float("inf")) -> float:
        """A number of 0 or more, up to `most`."""
        value = self.data.get(key)
        good = isinstance(value, int | float) and not isinstance(value, bool)
        if not good or not 0.0 <= float(value) <= most or float(value) == float("inf"):  # type: ignore[arg-type]
            raise self.refuse(key, "a number of 0 or more" if most == float("inf") else "a number from 0 to 1")
        return float(value)  # type: ignore[arg-type]

    def chance(self, key: str) -> float:
        """A probability; what rounding adds to 1 is cut off."""
        return min(self.number(key, 1.0 + 1e-9), 1.0)

    def flag(self, key: str) -> bool:
        """True or false."""
        value = self.data.get(key)
        if not isinstance(value, bool):
            raise self.refuse(key, "true or false")
        return value

    def whole(self, key: str) -> int:
        """A whole number of 1 or more."""
        value = self.data.get(key)
        if not isinstance(value, int) or isinstance(value, bool) or value < 1:
            raise self.refuse(key, "a whole number of 1 or more")
        return value

    def names(self, key: str, table: Iterable[str], kind: str) -> tuple[str, ...]:
        """A list of full ids that the library knows."""
        return tuple(self._known(key, one, table, kind) for one in self.texts(key))

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts."""
        value = self.data.get(key)
        if not isinstance(value, list) or not all(isinstance(one, str) for one in value):
            raise self.refuse(key, "a list of texts")
        return tuple(value)

    def records(self, key: str, name: str) -> Iterator[Record]:
        """A list of mappings, each with `name` and its place in the list as its name in messages."""
        value = self.data.get(key)
        if not isinstance(value, list):
            raise self.refuse(key, "a list")
        for number, one in enumerate(value, 1):
            if not isinstance(one, Mapping):
                raise ChartError(f"{self.where}: entry {number} of '{key}' is {str(one)[:60]!r}; it must be a mapping")
            yield Record(one, f"{self.where}, {name} {number}" if self.where else f"{name} {number}")
