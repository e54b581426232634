"""Writes the dependency matrix of a symptom as a table for a spreadsheet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING

from faultree.base.errors import FaultreeError
from faultree.library.exchange.cells import table_text
from faultree.library.exchange.matrix_layout import BETWEEN, CAUSE, COLUMNS, ROWS, USUAL, bracketed
from faultree.library.exchange.written import Exported
from faultree.library.model import BANDS
from faultree.logic.derive import fault_tree
from faultree.strategy.dependency import Matrix, dependency_matrix

if TYPE_CHECKING:
    from faultree.library.model import Cause, Check, Library


def matrix_text(library: Library, symptom: str) -> Exported:
    """The causes that alone produce a symptom (full id), by the checks that one of them would change.

    FaultreeError where no cause alone produces it.
    """
    matrix = dependency_matrix(library, symptom)
    if not matrix.causes:
        raise FaultreeError(f"no cause alone produces '{symptom}', so it has no dependency matrix")
    checks = [name for name in matrix.checks if any(name in matrix.responding[cause] for cause in matrix.causes)]
    names = _names([*matrix.causes, *checks, *(cause.item for cause in library.causes.values() if cause.item)])
    about = _about(matrix, checks)
    rows = [[CAUSE, *COLUMNS, *(names[check] for check in checks)]]
    rows += [[bracketed(row), *cells] for row, cells in about.items() if any(cells)]
    rows += [_row(matrix, cause, checks, names) for cause in matrix.causes]
    return Exported(table_text(rows), tuple(_notes(library, matrix, len(checks))))


def _names(full: Iterable[str]) -> dict[str, str]:
    """Short ids where they are unique among those given, else with the file before them."""
    distinct = list(dict.fromkeys(full))
    count = Counter(name.partition("/")[2] for name in distinct)
    return {
        name: short if count[short] == 1 else f"{system}_{short}"
        for name in distinct
        for system, _, short in (name.partition("/"),)
    }


def _row(matrix: Matrix, name: str, checks: Iterable[str], names: Mapping[str, str]) -> list[str]:
    """One cause, and the answer of each check where it alone is present."""
    library = matrix.library
    cause = library.causes[name]
    item = library.items[cause.item] if cause.item else None
    head = {
        "title": cause.title,
        "item": names[item.id] if item else "",
        "item title": item.title if item else "",
        "place": item.place if item else "",
        "manual": item.manual if item else cause.manual,
        "likelihood": _likelihood(cause),
        "minutes": f"{item.minutes if item else cause.minutes:.12g}",
        "symptom": "yes",
    }
    place = matrix.causes.index(name)
    return [names[name], *(head[column] for column in COLUMNS), *(matrix.answers[check][place] for check in checks)]


def _likelihood(cause: Cause) -> str:
    """The word of a band that has its usual weight, else the probability."""
    band = cause.likelihood.band
    return band if band and BANDS[band] == cause.probability else repr(cause.probability)


# ---- what is said about the checks


def _about(matrix: Matrix, checks: Iterable[str]) -> dict[str, list[str]]:
    """For each kind of row what it says, in the columns of a cause and for each check."""
    library = matrix.library
    found: dict[str, list[str]] = {}
    for row in ROWS:
        title = library.symptoms[matrix.symptom].title if row == "title" else ""
        cells = [matrix.usual[name] if row == USUAL else _said(library, library.checks[name], row) for name in checks]
        found[row] = [*("" for _ in COLUMNS[:-1]), title, *cells]
    return found


def _said(library: Library, check: Check, row: str) -> str:
    return _SAID[row](library, check)


def _answer(check: Check, name: str) -> str:
    text = check.answer(name).text if check.reads is not None else ""
    return "" if text.casefold() == name else text


def _cautions(library: Library, check: Check) -> str:
    """The cautions of a check, of its situation and of the access work that it needs, each once, by level."""
    situation = library.situations[check.situation].cautions if check.situation else ()
    access = [name for one in check.access for name in library.access[one].cautions]
    names = dict.fromkeys([*situation, *access, *check.cautions])
    return BETWEEN.join(f"{library.cautions[one].level}: {library.cautions[one].text}" for one in names)


def _share(value: float) -> str:
    return f"{value:.12g}" if value else ""


_SAID: Mapping[str, Callable[[Library, Check], str]] = {
    "title": lambda _, check: check.title,
    "ask": lambda _, check: check.ask,
    "situation": lambda library, check: library.situations[check.situation].title if check.situation else "",
    "by": lambda _, check: check.by,
    "minutes": lambda _, check: f"{check.minutes:.12g}",
    "yes": lambda _, check: _answer(check, "yes"),
    "no": lambda _, check: _answer(check, "no"),
    "answers": lambda _, check: (
        "" if check.reads is not None else BETWEEN.join(f"{one.id}: {one.text}" for one in check.answers)
    ),
    "false_yes": lambda _, check: _share(check.false_yes),
    "false_no": lambda _, check: _share(check.false_no),
    "error": lambda _, check: _share(check.error),
    "cautions": _cautions,
    "tools": lambda _, check: BETWEEN.join(check.tools),
    "manual": lambda _, check: check.manual,
    "note": lambda _, check: check.note,
}


def _notes(library: Library, matrix: Matrix, count: int) -> list[str]:
    left = set(fault_tree(library, matrix.symptom).causes) - set(matrix.causes)
    found = []
    if left:
        found.append(f"Causes that produce it only together with others, or not at all, are left out: {len(left)}.")
    if len(matrix.checks) > count:
        found.append(f"Checks that show the same for each of these causes are left out: {len(matrix.checks) - count}.")
    found.append("Access work is not in a matrix: the minutes are those of the check itself.")
    found.append("The approved maintenance manual and a licensed engineer decide; read the row of cautions first.")
    return found
