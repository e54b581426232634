"""The names in a folder's tree files, read fast and without a judgement, for a shell that completes them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from faultree.library.marked import MAX_BYTES, Node, Scalar, Table, parse

YES_NO = {"yes": "Yes", "no": "No"}
"""The answers of a check that reads a node, and how they are worded where nothing else is said."""


class Outline(NamedTuple):
    """Full ids and titles, whatever else is right or wrong; `answers` gives for each check its answers' texts."""

    symptoms: Mapping[str, str]
    causes: Mapping[str, str]
    items: Mapping[str, str]
    checks: Mapping[str, str]
    answers: Mapping[str, Mapping[str, str]]


def outline(folder: Path) -> Outline:
    """What the tree files of a folder name; a file that cannot be read, or a part of one, is passed over.

    >>> outline(Path("no/such/folder")).symptoms
    {}
    """
    systems = {path.stem: _sections(path) for path in sorted((*folder.glob("*.yaml"), *folder.glob("*.yml")))}

    def entries(section: str) -> dict[str, dict[str, Node]]:
        return {
            f"{system}/{key}": _table(entry)
            for system, sections in systems.items()
            for key, entry in _table(sections.get(section)).items()
        }

    def titles(section: str) -> dict[str, str]:
        return {name: _text(entry.get("title")) for name, entry in entries(section).items()}

    answers = {name: dict(_answers(check)) for name, check in entries("checks").items()}
    return Outline(titles("symptoms"), titles("causes"), titles("items"), titles("checks"), answers)


def _sections(path: Path) -> dict[str, Node]:
    with suppress(OSError, UnicodeDecodeError):
        if path.stat().st_size <= MAX_BYTES:
            return _table(parse(path.read_text(encoding="utf-8-sig"), path.name).root)
    return {}


def _answers(check: Mapping[str, Node]) -> Iterator[tuple[str, str]]:
    """The answers of one check with their texts, in the author's order."""
    if "answers" not in check:
        yield from ((word, _text(check.get(word)) or usual) for word, usual in YES_NO.items())
    for key, entry in _table(check.get("answers")).items():
        yield key, _text(_table(entry).get("text"))


def _table(node: Node | None) -> dict[str, Node]:
    return {key.text: value for key, value in node.pairs} if isinstance(node, Table) else {}


def _text(node: Node | None) -> str:
    return " ".join(node.text.split()) if isinstance(node, Scalar) else ""
