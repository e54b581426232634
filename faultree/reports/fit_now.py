"""How much of a kept case fits the tree files as they are now; what no longer fits is named, never a reason to fail."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from faultree.base.errors import CaseError, FaultreeError
from faultree.base.words import sentence
from faultree.journal.records import Record
from faultree.journal.stage import walked
from faultree.library.model import Library
from faultree.strategy.case import Case
from faultree.walk import fitting, saved
from faultree.walk.reported import together
from faultree.walk.state import Walk

NOTHING_FITS = (
    "Nothing of the walk fits the tree files as they are now: its steps stand in the log and count for nothing."
)


def reports_now(library: Library, record: Record) -> dict[str, str | None]:
    """Each report of a case (its id as recorded) and its full id now; None where the tree holds it no more.

    One that has another id by now is found by its title, where that was kept.
    """
    titles = titles_kept(record)
    names = dict.fromkeys((*record.symptoms, *_added(record)))
    return {name: fitting.named(library.symptoms, name, titles.get(name)) for name in names}


def _added(record: Record) -> Iterator[str]:
    """The reports that came in during the walk, beside the crew's squawks."""
    own = (walked(record) or {}).get(saved.KEY)
    found = own.get("added") if isinstance(own, Mapping) else None
    for one in found if isinstance(found, list) else ():
        if isinstance(one, Mapping) and isinstance(one.get("report"), str):
            yield one["report"]


def symptoms_now(library: Library, record: Record) -> tuple[str, ...]:
    """The reports of a case that the tree holds (full ids), each once."""
    return tuple(dict.fromkeys(name for name in reports_now(library, record).values() if name is not None))


def titles_kept(record: Record) -> dict[str, str]:
    """What the reports were called when the walk was kept."""
    found: dict[str, str] = {}
    for entry in record.entries:
        walk = entry.data.get("walk")
        tree = walk.get(saved.TREE) if isinstance(walk, Mapping) else None
        reports = tree.get("reports") if isinstance(tree, Mapping) else None
        if isinstance(reports, Mapping):
            found |= {str(name): str(title) for name, title in reports.items()}
    return found


def called(library: Library, record: Record, name: str) -> str:
    """A report of a case in words: as the tree has it now, else as it was kept, else its id."""
    now = reports_now(library, record).get(name)
    return library.symptoms[now].title if now else titles_kept(record).get(name, name)


def gone(library: Library, record: Record) -> Iterator[str]:
    """The reports that the tree no longer holds, each in a sentence."""
    for name, now in reports_now(library, record).items():
        if now is None:
            yield f"The report “{called(library, record, name)}” is no longer in the tree files."


def walk_now(library: Library, record: Record) -> tuple[Walk | None, tuple[str, ...]]:
    """The walk as it was kept last, and sentences that say what no longer fits at all.

    Where nothing of it fits, or none was begun, it is that of the reports alone; None where no report is possible.
    """
    kept, lost = walked(record), tuple(gone(library, record))
    if kept is not None:
        try:
            return saved.unpack(library, kept), ()
        except FaultreeError as error:
            lost = (NOTHING_FITS, *(lost or (sentence(error),)))
    symptoms = symptoms_now(library, record)
    if not symptoms:
        return None, lost
    try:
        return Walk(library, case=Case.open(library, together(library, symptoms))), lost
    except CaseError as error:
        return None, (*lost, sentence(error))
