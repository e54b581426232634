"""Checks that every name leads somewhere, and that no name is given twice."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from faultree.base.problem import Place, Problem
from faultree.base.words import listing
from faultree.library.documents import Document
from faultree.library.findings import Guesses, Reference
from faultree.library.records import Record, article
from faultree.library.shapes import NODES, NOUNS, SECTIONS
from faultree.library.values import shown


class Index(NamedTuple):
    """Every record of a library by section and full id, and what helps to find names that are near.

    `documents` holds the files by id, `elsewhere` for each target one full id by short id, and
    `within` the short ids of a target in a file.
    """

    sections: Mapping[str, Mapping[str, Record]]
    documents: Mapping[str, Document]
    elsewhere: Mapping[str, Mapping[str, str]]
    within: Mapping[tuple[str, str], Sequence[str]]

    def find(self, target: str, full: str) -> Record | None:
        """The record that a reference to a target means, or None."""
        for section in SECTIONS[target]:
            record = self.sections[section].get(full)
            if record is not None:
                return record
        return None


def index(documents: Sequence[Document]) -> Index:
    """The index over all files; of records with the same id the first one counts."""
    sections: dict[str, dict[str, Record]] = {section: {} for section in NOUNS}
    for document in documents:
        for name, table in sections.items():
            for record in document.section(name):
                table.setdefault(record.id, record)
    elsewhere: dict[str, dict[str, str]] = {target: {} for target in SECTIONS}
    within: dict[tuple[str, str], list[str]] = {}
    for target, names in SECTIONS.items():
        for full in (full for name in names for full in sections[name]):
            system, _, short = full.partition("/")
            elsewhere[target].setdefault(short, full)
            within.setdefault((target, system), []).append(short)
    return Index(sections, {document.system: document for document in documents}, elsewhere, within)


def check_files(documents: Sequence[Document]) -> Iterator[Problem]:
    """Files that give the same id, such as `a.yaml` and `a.yml`."""
    first: dict[str, str] = {}
    for document in documents:
        other = first.setdefault(document.system, document.file)
        if other != document.file:
            message = f"the id '{shown(document.system)}' is that of {other} already"
            yield Problem(Place(document.file), message, "rename or remove one of the two files", rule="file")


def check_unique(document: Document) -> Iterator[Problem]:
    """Ids that stand in more than one of the sections that share their names."""
    records = [(record, section) for section in NODES for record in document.section(section)]
    first: dict[str, tuple[Record, str]] = {}
    for record, section in sorted(records, key=lambda pair: (pair[0].key.line, pair[0].key.column)):
        before, other = first.setdefault(record.id, (record, section))
        if other != section:
            message = f"the id '{shown(record.short)}' stands under '{other}' already, on line {before.key.line}"
            yield record.problem(record.key, message, f"rename one: {listing(NODES)} share their ids", "reference")


def check_references(document: Document, known: Index, guesses: Guesses) -> Iterator[Problem]:
    """References that lead nowhere or to something of the wrong kind."""
    for reference in document.found.references:
        if known.find(reference.target, reference.full) is None:
            problem = _lost(reference, known, guesses)
            if problem is not None:
                yield problem


def _lost(reference: Reference, known: Index, guesses: Guesses) -> Problem | None:
    """What is wrong with a reference; None where its file could not be read, so that nobody knows."""
    system, _, name = reference.full.partition("/")
    document = known.documents.get(system)
    if document is None:
        message = f"unknown file '{shown(system)}' in '{shown(reference.written)}'"
        hint = guesses.remedy(system, known.documents, f"there is no '{shown(system)}.yaml' beside this file")
        return Problem(reference.place, message, hint, rule="reference")
    if not document.complete:
        return None
    sections = SECTIONS[reference.target]
    wanted = listing([NOUNS[section] for section in sections], "or")
    remedy = f"define it under {listing(sections, 'or')}, or correct the name"
    other = next((NOUNS[section] for section in NOUNS if reference.full in known.sections[section]), None)
    if other is not None:
        message = f"'{shown(reference.written)}' is {article(other)}, not {article(wanted)}"
        remedy = f"name one that stands under {listing(sections, 'or')}"
    elif reference.target == "node":
        message = f"unknown id '{shown(reference.written)}'"
    else:
        message = f"unknown {wanted} '{shown(reference.written)}'"
    meant = _meant(reference, system, name, known, guesses)
    hint = remedy if meant is None else f"did you mean '{meant}'?"
    return Problem(reference.place, message, hint, rule="reference")


def _meant(reference: Reference, system: str, name: str, known: Index, guesses: Guesses) -> str | None:
    """The same name in another file, else a near one in the file meant."""
    elsewhere = known.elsewhere[reference.target].get(name)
    if elsewhere is not None:
        return elsewhere
    near = guesses.meant(name, known.within.get((reference.target, system), ()))
    return f"{system}/{near}" if near is not None and "/" in reference.written else near
