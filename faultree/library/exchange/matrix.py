"""Reads a dependency matrix, causes by checks, as a tree file with one symptom."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from faultree.base.problem import Place, Problem
from faultree.base.words import did_you_mean, listing
from faultree.library.exchange.cells import Read, Row, read_table
from faultree.library.exchange.matrix_checks import Column, check_of
from faultree.library.exchange.matrix_layout import CAUSE, COLUMNS, NO, ROWS, YES, bracketed
from faultree.library.exchange.matrix_values import Cell, likelihood, minutes, truth
from faultree.library.exchange.mef_names import Taken, new_id
from faultree.library.exchange.written import Imported, listed, tree_text
from faultree.library.starter import title_from
from faultree.library.values import control, is_id, shown

ALONE = (
    "A matrix says what each cause shows alone. With several at once a check is taken to show the first answer "
    "that one of them gives, in the order of its answers, and the symptom is taken to be there if one produces it."
)


def read_matrix(content: bytes, file: str, system: str, figure: str | float | None = None) -> Imported:
    r"""The tree file `system` of a matrix's bytes, or all that is wrong with it; `file` is what problems call it.

    `figure` is the likelihood of causes without one: a word of a tree file or a probability.

    >>> text = read_matrix(b"cause,likelihood,lamp\nfuse,0.1,x\nbulb,0.2,", "m.csv", "m").text
    >>> print(text.partition("causes:")[2].partition("events:")[0], end="")
    <BLANKLINE>
      fuse: {title: Fuse, probability: 0.1}
      bulb: {title: Bulb, probability: 0.2}
    <BLANKLINE>
    """
    read = read_table(content, file)
    if read.problem is not None:
        return Imported(None, (read.problem,))
    made = _Matrix(file, system, read, figure)
    data = made.data()
    if made.problems:
        return Imported(None, listed(made.problems))
    return tree_text(data, system, file, (ALONE, *made.notes))


@dataclass
class _Matrix:
    """One matrix on its way to a tree file."""

    file: str
    system: str
    read: Read
    figure: str | float | None
    problems: list[Problem] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    columns: dict[str, int] = field(default_factory=dict)
    checks: dict[int, str] = field(default_factory=dict)
    about: dict[str, Row] = field(default_factory=dict)
    causes: list[Row] = field(default_factory=list)
    items: dict[str, str] = field(default_factory=dict)

    def data(self) -> dict[str, Any]:
        """The tree file as plain data; what is wrong is in `problems`."""
        if not self.read.rows:
            self.problem(0, -1, "the table is empty", f"begin it with a row whose first cell is '{CAUSE}'")
            return {}
        self.header(self.read.rows[0])
        for row in self.read.rows[1:]:
            self.row(row)
        if not self.causes:
            self.problem(self.read.rows[0].line, 0, "the table names no cause", "write one in each row below the first")
        ids = self.ids()
        self.items = self.item_ids()
        items: dict[str, dict[str, Any]] = {}
        causes = {ids[row.line]: self.cause(row, ids[row.line], items) for row in self.causes}
        taken = Taken(causes)
        nodes: dict[str, dict[str, Any]] = {"signals": {}, "events": {}, "cautions": {}}
        checks = self.checked(ids, taken, nodes)
        event = taken.free(self.system)
        return {
            "faultree": 1,
            "title": title_from(self.system),
            "summary": f"Read from a dependency matrix in {shown(self.file.replace(chr(92), '/').rpartition('/')[2])}.",
            "items": {name: {"title": self.called(name), **entry} for name, entry in items.items()},
            "causes": causes,
            "signals": nodes["signals"],
            "events": nodes["events"] | {event: self.event(ids)},
            "cautions": nodes["cautions"],
            "checks": checks,
            "symptoms": {self.system: {"title": self.title(), "event": event}},
        }

    def problem(self, line: int, column: int, message: str, hint: str) -> None:
        """Note what is wrong; of a place the column is that of the cell, counted from 1."""
        self.problems.append(Problem(Place(self.file, line, column + 1), message, hint, rule="exchange"))

    # ---- rows and columns

    def header(self, row: Row) -> None:
        if row.cells[0].casefold() != CAUSE:
            message = f"the first cell is '{shown(row.cells[0])}', so this is no dependency matrix"
            self.problem(row.line, 0, message, f"begin the first row with '{CAUSE}'")
        seen: dict[str, int] = {}
        for place, cell in enumerate(row.cells[1:], 1):
            known = " ".join(cell.casefold().replace("_", " ").split())
            if cell in seen or known in self.columns:
                self.problem(row.line, place, f"the column '{shown(cell)}' stands here twice", "rename or remove one")
            elif known in COLUMNS:
                self.columns[known] = place
            elif cell:
                self.checks[place] = cell
            if cell:
                seen.setdefault(cell, place)

    def row(self, row: Row) -> None:
        name = row.cells[0]
        for place, cell in enumerate(row.cells[1:], 1):
            if cell and place not in self.checks and place not in self.columns.values():
                self.problem(row.line, place, f"'{shown(cell)}' stands in a column without a name", "name the column")
        if name.startswith("(") and name.endswith(")"):
            self.line_about(row, name[1:-1].strip().casefold())
        elif name:
            self.causes.append(row)
        else:
            self.problem(row.line, 0, "a row names no cause", f"name one, or a row such as {bracketed('minutes')}")

    def line_about(self, row: Row, word: str) -> None:
        if word not in ROWS:
            known = listing(map(bracketed, ROWS), "or")
            self.problem(row.line, 0, f"unknown row '({shown(word)})'", did_you_mean(word, ROWS, f"write {known}"))
        elif word in self.about:
            message = f"the row '{bracketed(word)}' stands on line {self.about[word].line} already"
            self.problem(row.line, 0, message, "keep one")
        self.about.setdefault(word, row)

    def cell(self, row: Row, place: int | None) -> Cell:
        """What stands in a row under a column; nothing where there is none of the two."""
        if place is None or place >= len(row.cells):
            return Cell("", row.line, (place or 0) + 1, self.file, self.read.separator)
        text = row.cells[place]
        bad = control(text.replace("\n", " "))
        if bad is not None:
            self.problem(row.line, place, f"the cell holds the character U+{ord(bad):04X}", "remove it")
            text = ""
        return Cell(text, row.line, place + 1, self.file, self.read.separator)

    # ---- causes

    def ids(self) -> dict[int, str]:
        """The id of the cause in each row, by its line; a cause that is named twice is noted."""
        names = [row.cells[0] for row in self.causes]
        legal = {name for name in names if is_id(name) and name != "otherwise"}
        taken = Taken(legal)
        found: dict[int, str] = {}
        first: dict[str, int] = {}
        for row, name in zip(self.causes, names, strict=True):
            if name in first:
                message = f"the cause '{shown(name)}' stands on line {first[name]} already"
                self.problem(row.line, 0, message, "rename one of the two, or remove one")
            first.setdefault(name, row.line)
            found[row.line] = (
                name if name in legal else taken.free(new_id(f"cause {name}" if is_id(name) else name, "cause"))
            )
        return found

    def cause(self, row: Row, name: str, items: dict[str, dict[str, Any]]) -> dict[str, Any]:
        """The cause of a row; its time, place and manual are those of its item where it has one."""
        raw = self.cell(row, 0).text
        title, item, place, manual = (self.line(row, key) for key in ("title", "item", "place", "manual"))
        entry: dict[str, Any] = {"title": title or title_from(raw) or name}
        time = minutes(self.cell(row, self.columns.get("minutes")), self.problems)
        work = {key: value for key, value in (("manual", manual), ("minutes", time)) if value not in ("", None)}
        if item:
            entry["item"] = self.item(row, item, {**({"place": place} if place else {}), **work}, items)
        entry |= self.figures(row, name)
        entry |= {} if item else {**work, **({"x-place": place} if place else {})}
        return entry if name == raw else {**entry, "x-name": raw}

    def line(self, row: Row, key: str) -> str:
        """What stands in a row under a column that says something of causes, as one line."""
        return " ".join(self.cell(row, self.columns.get(key)).text.split())

    def figures(self, row: Row, name: str) -> dict[str, Any]:
        cell = self.cell(row, self.columns.get("likelihood"))
        if cell.text:
            return likelihood(cell, self.problems)
        if self.figure is None:
            hint = "write one in the column 'likelihood', or give all causes without one the same (--likelihood)"
            self.problem(row.line, cell.column - 1, f"the cause '{shown(name)}' has no likelihood", hint)
            return {}
        return {"likelihood" if isinstance(self.figure, str) else "probability": self.figure}

    def item_ids(self) -> dict[str, str]:
        """The id of each item by the text that names it; texts of which only the case differs name one item."""
        texts = dict.fromkeys(text for row in self.causes if (text := self.line(row, "item")))
        taken = Taken(text for text in texts if is_id(text))
        found: dict[str, str] = {}
        folded: dict[str, str] = {}
        for text in texts:
            known = text if is_id(text) else folded.get(text.casefold())
            found[text] = folded[text.casefold()] = known or taken.free(new_id(text, "item"))
        return found

    def called(self, name: str) -> str:
        """What an item is called where no title is given: by the text that names it first."""
        text = next(text for text, one in self.items.items() if one == name)
        return title_from(text) or text

    def item(self, row: Row, text: str, work: Mapping[str, Any], items: dict[str, dict[str, Any]]) -> str:
        """The id of an item, which is put among the items; its causes must agree on what is said of it."""
        name, title = self.items[text], self.line(row, "item title")
        entry = items.setdefault(name, {})
        for key, value in {**({"item title": title} if title else {}), **work}.items():
            if entry.setdefault("title" if key == "item title" else key, value) != value:
                message = f"the item '{shown(text)}' has '{shown(_said(value))}' under '{key}', and another value above"
                self.problem(row.line, self.columns[key], message, "write the same for all causes of an item")
        return name

    # ---- checks and symptom

    def checked(self, ids: Mapping[int, str], taken: Taken, nodes: dict[str, dict[str, Any]]) -> dict[str, Any]:
        """The checks by id; the nodes that they read are put among the signals and events."""
        names = Taken(cell for cell in self.checks.values() if is_id(cell))
        found: dict[str, Any] = {}
        for place, cell in self.checks.items():
            about = {word: self.cell(row, place) for word, row in self.about.items()}
            shows = {ids[row.line]: self.cell(row, place) for row in self.causes}
            name = cell if is_id(cell) else names.free(new_id(cell, "check"))
            head = Cell(cell, self.read.rows[0].line, place + 1, self.file, self.read.separator)
            made = check_of(Column(name, head, about, shows), taken, self.problems, self.notes)
            for section, entries in made.nodes.items():
                nodes[section].update(entries)
            cautions = [_caution(text, nodes["cautions"]) for text in made.cautions]
            found[name] = {**made.entry, **({"cautions": cautions} if cautions else {})}
        return found

    def event(self, ids: Mapping[int, str]) -> dict[str, Any]:
        """The event of the symptom: that one of the causes is present that produce it."""
        place = self.columns.get("symptom")
        of = [ids[row.line] for row in self.causes if truth(self.cell(row, place), True, self.problems)]
        if self.causes and not of:
            hint = f"write {listing(YES[:3], 'or')} for each that does, and {listing(NO[:2], 'or')} for the others"
            self.problem(self.read.rows[0].line, place or 0, "no cause produces the symptom", hint)
        return {"title": self.title(), "any": of}

    def title(self) -> str:
        """What is reported: the title above the column of the symptom."""
        row = self.about.get("title")
        text = self.cell(row, self.columns["symptom"]).text if row and "symptom" in self.columns else ""
        return " ".join(text.split()) or title_from(self.system)


def _said(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:g}"


def _caution(text: str, cautions: dict[str, dict[str, Any]]) -> str:
    """The id of a caution, which is put among the others unless it is there; it may begin with its level."""
    level, sign, rest = text.partition(":")
    known = sign and level.strip().casefold() in ("warning", "caution", "note") and rest.strip()
    entry = {"text": rest.strip() if known else text, "level": level.strip().casefold() if known else "caution"}
    for name, other in cautions.items():
        if other == entry:
            return name
    name = f"caution-{len(cautions) + 1}"
    cautions[name] = entry
    return name
