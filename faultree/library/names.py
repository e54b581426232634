"""Checks that every name leads somewhere, and that no name is given twice."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from faultree.base.problem import Place, Problem
from faultree.base.words import listing
from faultree.library.documents import Document
from faultree.library.findings import Guesses, Reference
from faultree.library.records import Record
from faultree.library.shapes import NODES, SECTIONS
from faultree.library.values import shown

_WANTED = {"node": "condition, cause, signal or event", "access": "access"}


class Index(NamedTuple):
    """Every record of a library by section and full id, and the files that hold them by id."""

    sections: Mapping[str, Mapping[str, Record]]
    documents: Mapping[str, Document]

    def find(self, target: str, full: str) -> Record | None:
        """The record that a reference to a target means, or None."""
        for section in SECTIONS[target]:
            record = self.sections[section].get(full)
            if record is not None:
                return record
        return None

    def ids(self, target: str) -> Iterable[str]:
        """Every full id of a target."""
        for section in SECTIONS[target]:
            yield from self.sections[section]


def index(documents: Sequence[Document]) -> Index:
    """The index over all files; of records with the same id the first one counts."""
    sections: dict[str, dict[str, Record]] = {name: {} for names in SECTIONS.values() for name in names}
    for document in documents:
        for name in sections:
            for record in document.section(name):
                sections[name].setdefault(record.id, record)
    return Index(sections, {document.system: document for document in documents})


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
    for record, section in sorted(records, key=lambda pair: pair[0].key[2:]):
        before, other = first.setdefault(record.id, (record, section))
        if other != section:
            message = f"the id '{shown(record.short)}' stands under '{other}' already, on line {before.key.line}"
            hint = f"rename one; {listing(NODES)} share their ids"
            yield record.problem(record.key, message, hint, "reference")


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
        hint = guesses.remedy(system, known.documents, f"there is no '{shown(system)}.yaml' in this folder")
        return Problem(reference.place, message, hint, rule="reference")
    if not document.complete:
        return None
    wanted = _WANTED.get(reference.target, reference.target)
    other = next((one for one in SECTIONS if one != "node" and known.find(one, reference.full)), None)
    if other is not None:
        article = "an" if other[0] in "aeiou" else "a"
        message = f"'{shown(reference.written)}' is {article} {other}, where a {wanted} is needed"
    else:
        message = f"unknown {'id' if reference.target == 'node' else wanted} '{shown(reference.written)}'"
    return Problem(reference.place, message, _remedy(reference, name, known, guesses), rule="reference")


def _remedy(reference: Reference, name: str, known: Index, guesses: Guesses) -> str:
    """The same name elsewhere, else a near one in the file meant, else where to define it."""
    ids = list(known.ids(reference.target))
    elsewhere = next((full for full in ids if full.partition("/")[2] == name), None)
    if elsewhere is not None:
        return f"did you mean '{elsewhere}'?"
    prefix = reference.full.partition("/")[0] + "/"
    near = {full.removeprefix(prefix) for full in ids if full.startswith(prefix)}
    if "/" in reference.written:
        near = {prefix + one for one in near}
    where = listing([f"'{section}'" for section in SECTIONS[reference.target]], "or")
    return guesses.remedy(reference.written, sorted(near), f"define it under {where} or correct the name")
