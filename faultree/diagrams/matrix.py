"""Causes by checks as a drawing: what each check would show for each cause, ambiguity groups boxed."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from faultree.base.words import percent
from faultree.diagrams.drawing import Drawing, Request
from faultree.diagrams.frame import Frame, Sample, sample, sheet, used
from faultree.diagrams.metrics import clean, width, wrap
from faultree.diagrams.paper import Paper
from faultree.diagrams.picture import SMALL, Arc, Group, Plain, Shape, Sheet, State, Vertex, text_height, together
from faultree.logic.derive import fault_tree
from faultree.strategy.testability import Testability

NAME = (120.0, 290.0)
"""The width of the causes' titles, in points: as much as the longest needs, within these."""

NAMED = 0.01
"""A suspect that is no single fault is named where it is at least as likely as this."""

MOST_NAMED = 6

CELL = (15.0, 13.0)
HEAD = 16.0
PROBABILITY = 34.0
KEY = 236.0
"""The width of a column of the key, in points."""

SMALLEST = 0.68
GAP = 12.0


def matrix_drawing(asked: Request, found: Testability) -> Drawing:
    """The drawing of a dependency matrix."""
    table = Table(asked, found)
    frame = Frame(asked.block("Causes by checks", table.facts()), _legend(table))
    sheets = (
        min((_on_paper(table, frame, paper) for paper in asked.ways), key=len) if asked.ways else _alone(table, frame)
    )
    plain = Plain((), tuple(_vertices(table)), tuple(_arcs(table)), "LR")
    title = asked.library.symptoms[asked.symptom].title
    return Drawing("matrix", asked.symptom, title, sheets, plain, asked.theme, tuple(_lines(table)), (SIGNS,))


@dataclass(frozen=True, eq=False)
class Table:
    """The rows and columns of a matrix in the order in which blocks show."""

    asked: Request
    found: Testability

    @cached_property
    def columns(self) -> tuple[str, ...]:
        """The checks that tell something; of those that tell the same, one that was answered, else the first."""
        seen: dict[tuple[str, ...], str] = {}
        for check in sorted(self.found.telling, key=lambda check: not self.answered(check)):
            seen.setdefault(self._shown(check), check)
        checks = seen.values()
        return tuple(sorted(checks, key=lambda check: (-self._weight(check), check)))

    def _shown(self, check: str) -> tuple[str, ...]:
        usual = self.found.matrix.usual[check]
        numbers = {usual: ""}
        return tuple(numbers.setdefault(one, str(len(numbers))) for one in self.found.matrix.answers[check])

    def _weight(self, check: str) -> float:
        matrix = self.found.matrix
        return self.found.weight(cause for cause in matrix.causes if check in matrix.responding[cause])

    def same_as(self, check: str) -> tuple[str, ...]:
        """The checks that a column stands for besides its own."""
        shown = self._shown(check)
        return tuple(other for other in self.found.telling if other != check and self._shown(other) == shown)

    @cached_property
    def groups(self) -> tuple[tuple[str, ...], ...]:
        """The causes, those together that no check tells apart, in the order of the checks that respond."""
        return tuple(sorted(self.found.alike, key=lambda part: [not one for one in self._responds(part[0])]))

    def _responds(self, cause: str) -> list[bool]:
        responding = self.found.matrix.responding[cause]
        return [check in responding for check in self.columns]

    def cell(self, cause: str, check: str) -> str:
        """What a check would show for a cause: the number of the answer, empty for the usual one."""
        matrix = self.found.matrix
        shown = matrix.answers[check][matrix.causes.index(cause)]
        if shown == matrix.usual[check]:
            return ""
        answers = [answer.id for answer in self.asked.library.checks[check].answers]
        return chr(ord("a") + answers.index(shown)) if shown in answers else "?"

    def instead(self, check: str, other: str) -> str:
        """What another check with the same column shows for each letter, and while nothing is wrong."""
        texts = {answer.id: answer.text for answer in self.asked.library.checks[other].answers}
        found: dict[str, str] = {}
        for place, cause in enumerate(self.found.matrix.causes):
            if letter := self.cell(cause, check):
                found.setdefault(letter, texts.get(self.found.matrix.answers[other][place], "?"))
        usual = texts.get(self.found.matrix.usual[other], "?")
        letters = [f"{letter} {words}" for letter, words in sorted(found.items())]
        seen = f" ({self.answered(other)} answered)" if self.answered(other) else ""
        return f"{'; '.join(letters)}; usual {usual}{seen}"

    def asks(self, check: str) -> str:
        """What a check does and asks."""
        entry = self.asked.library.checks[check]
        return f"{entry.title}: {entry.ask}" if entry.ask else entry.title

    @cached_property
    def name(self) -> float:
        """The width of the titles of causes, in points."""
        titles = (clean(self.asked.library.causes[cause].title) for cause in self.found.matrix.causes)
        return max(NAME[0], min(NAME[1], max((width(one, SMALL, bold=True) for one in titles), default=0.0) + 8))

    def lines(self, cause: str) -> tuple[str, ...]:
        """The title of a cause, broken to its width."""
        bold = self.asked.evidence.state(cause) == "path"
        return wrap(self.asked.library.causes[cause].title, self.name - 6, SMALL, bold=bold)

    def height(self, cause: str) -> float:
        """The height of a row, in points."""
        return max(CELL[1], text_height(len(self.lines(cause)), SMALL) + 4)

    def facts(self) -> str:
        """What the checks can tell at best, and which suspects are not in the matrix."""
        if not self.found.matrix.causes:
            words = (
                "No single fault produces this symptom, so there is nothing to tell apart by one check after another."
            )
            return " ".join([words, *self._missing()])
        shares = [("are revealed by some check", self.found.detected)]
        shares += [("of those are told apart to one item", self.found.isolated[1])]
        said = [f"{percent(share)} {what}" for what, share in shares if share is not None]
        count = len(self.found.matrix.causes)
        first = f"{count} single fault{'s' if count > 1 else ''}, by likelihood: {', '.join(said)}."
        return " ".join([first, "Faults that act only together are not here.", *self._missing()])

    def _missing(self) -> Iterator[str]:
        """The suspects of a case that are not in the matrix, as far as they have to do with the report."""
        evidence, causes = self.asked.evidence, self.asked.library.causes
        if not evidence.given:
            return
        near = [name for name in fault_tree(self.asked.library, self.asked.symptom).causes if name in causes]
        others = [name for name in dict.fromkeys(near) if name not in self.found.matrix.causes]
        found = [(name, evidence.probabilities.get(name, 0.0)) for name in others]
        found = sorted((one for one in found if one[1] >= NAMED), key=lambda one: (-one[1], one[0]))
        if found:
            more = f" and {len(found) - MOST_NAMED} more" if len(found) > MOST_NAMED else ""
            named = ", ".join(f"{causes[name].title} {percent(chance)}" for name, chance in found[:MOST_NAMED])
            yield f"Suspects that are not here: {named}{more}."

    def answered(self, check: str) -> str:
        """The letter of the answer that the case has for a check; empty without one."""
        reply = self.asked.evidence.replies.get(check)
        answers = [answer.id for answer in self.asked.library.checks[check].answers]
        return chr(ord("a") + answers.index(reply)) if reply in answers else ""


# --- the picture -----------------------------------------------------------------------------------


def _alone(table: Table, frame: Frame) -> tuple[Sheet, ...]:
    grid = _grid(table, table.groups, table.columns, 1)
    key = _key(table, max(grid.w, 2 * KEY + GAP), 1e9)[0]
    return (sheet(frame, together([grid, key.moved(0, grid.h + GAP)]), 1, 1, None),)


def _on_paper(table: Table, frame: Frame, paper: Paper) -> tuple[Sheet, ...]:
    """The matrix on one sheet if it can be, else cut into bands; then the key."""
    w, h = paper.room[0], paper.room[1] - frame.height(paper.room[0])
    side = table.name + (PROBABILITY if table.asked.evidence.given else 0.0)
    whole = _grid(table, table.groups, table.columns, 1)
    scale = max(SMALLEST, min(1.0, w / max(whole.w, 1), h / max(whole.h, 1)))
    across = max(1, int((w / scale - side) // CELL[0]))
    bands = [table.columns[start : start + across] for start in range(0, len(table.columns), across)] or [()]
    pages = [
        _grid(table, rows, band, 1 + across * number).scaled(scale)
        for rows in _row_bands(table, h / scale - HEAD)
        for number, band in enumerate(bands)
    ]
    keys = _key(table, w, h)
    if len(pages) == 1 and len(keys) == 1 and pages[0].h + GAP + keys[0].h <= h:
        pages = [together([pages[0], keys[0].moved(0, pages[0].h + GAP)])]
    else:
        pages += keys
    return tuple(sheet(frame, group, number, len(pages), paper) for number, group in enumerate(pages, 1))


def _row_bands(table: Table, room: float) -> Iterator[list[tuple[str, ...]]]:
    """Groups in bands of rows that a page holds; a group that is higher than a page is cut."""
    band: list[tuple[str, ...]] = []
    left = room
    for group in table.groups:
        if band and left < sum(map(table.height, group)) <= room:
            yield band
            band, left = [], room
        part: tuple[str, ...] = ()
        for cause in group:
            if table.height(cause) > left and (band or part):
                yield [*band, part] if part else band
                band, part, left = [], (), room
            part, left = (*part, cause), left - table.height(cause)
        band.append(part)
    if band:
        yield band


def _grid(table: Table, groups: Sequence[tuple[str, ...]], checks: Sequence[str], first: int) -> Group:
    """A piece of the matrix: its head with the numbers of the checks, and its rows."""
    evidence = table.asked.evidence
    side = table.name + (PROBABILITY if evidence.given else 0.0)
    shapes = []
    for place, check in enumerate(checks):
        number, x = first + place, side + place * CELL[0]
        state: State = "odd" if table.answered(check) else ""
        title = table.asked.library.checks[check].title
        name = f"check-{number}-{groups[0][0]}" if groups else f"check-{number}"
        shapes.append(
            Shape(name, "box", x, 0, CELL[0], HEAD, (str(number),), 6.5, True, "middle", "mark", state, title, check)
        )
    y = HEAD
    for group in groups:
        for cause in group:
            shapes += _row(table, cause, checks, side, y)
            y += table.height(cause)
    wide = side + len(checks) * CELL[0]
    shapes += _boxes(table, groups, wide)
    return Group(wide, y, tuple(shapes))


def _row(table: Table, cause: str, checks: Sequence[str], side: float, y: float) -> Iterator[Shape]:
    """One cause: its title, its probability where there is a case, and its cells."""
    entry, evidence = table.asked.library.causes[cause], table.asked.evidence
    state = evidence.state(cause)
    lines, name, high = table.lines(cause), table.name, table.height(cause)
    yield Shape(
        cause, "box", 0, y, name, high, lines, SMALL, state == "path", "start", "leaf", state, entry.title, cause
    )
    if evidence.given:
        value, says = evidence.probabilities.get(cause, 0.0), evidence.says(cause)
        words = "excl." if says == "excluded" else says
        yield Shape(f"{cause}!bar", "bar", name + 2, y + high - 4, PROBABILITY - 4, 3, value=value)
        yield Shape(f"{cause}!percent", "text", name + 2, y, PROBABILITY - 4, high - 4, (words,), 6.0, True)
    for place, check in enumerate(checks):
        letter = table.cell(cause, check)
        yield Shape(
            f"{cause}>{check}",
            "box",
            side + place * CELL[0],
            y,
            CELL[0],
            high,
            (letter,) if letter else (),
            SMALL,
            bold=True,
            look="caution" if letter else "frame",
        )


def _boxes(table: Table, groups: Sequence[tuple[str, ...]], wide: float) -> Iterator[Shape]:
    """A heavy frame around each group of two or more."""
    y = HEAD
    for group in groups:
        height = sum(map(table.height, group))
        if len(group) > 1:
            yield Shape(f"group-{group[0]}", "box", -1, y, wide + 2, height, look="group", title="ambiguity group")
        y += height


def _key(table: Table, wide: float, height: float) -> list[Group]:
    """The checks by number with the letters of their answers, in columns, over as many pages as it takes."""
    count = max(1, int((wide + GAP) // (KEY + GAP)))
    entries = [one for number, check in enumerate(table.columns, 1) for one in _key_entries(table, number, check)]
    total = sum(one.h for one in entries)
    room = min(height, max(total / count + 40, max((one.h for one in entries), default=0.0)))
    pages: list[list[Group]] = [[]]
    column, y = 0, 0.0
    for one in entries:
        if y and y + one.h > room:
            column, y = column + 1, 0.0
            if column == count:
                pages.append([])
                column = 0
        pages[-1].append(one.moved(column * (KEY + GAP), y))
        y += one.h
    return [together(page) for page in pages]


def _key_entries(table: Table, number: int, check: str) -> Iterator[Group]:
    """A check with its answers, and each one that shares its column with what it shows instead."""
    entry = table.asked.library.checks[check]
    yield _key_entry(f"key-{number}", str(number), entry.title, [entry.ask, *_answers(table, check)], check)
    for place, other in enumerate(table.same_as(check), 1):
        entry = table.asked.library.checks[other]
        words = [entry.ask, f"for {number}: {table.instead(check, other)}"]
        yield _key_entry(f"key-{number}-{place}", f"= {number}", entry.title, words, other)


def _key_entry(name: str, number: str, title: str, words: Sequence[str], check: str) -> Group:
    lines = wrap(title, KEY - 30, SMALL, bold=True)
    small = tuple(line for one in words for line in wrap(one, KEY - 30, SMALL, even=False, most=20))
    high, low = text_height(len(lines), SMALL), text_height(len(small), SMALL)
    shapes = (
        Shape(f"{name}!number", "text", 0, 2, 26, text_height(1, SMALL), (number,), SMALL, True),
        Shape(name, "text", 28, 2, KEY - 30, high, lines, SMALL, True, "start", title=title, source=check),
        Shape(f"{name}!answers", "text", 28, 2 + high, KEY - 30, low, small, SMALL, align="start"),
    )
    return Group(KEY, high + low + 7, shapes)


def _answers(table: Table, check: str) -> Iterator[str]:
    """The answers of a check by their letters: which is usual, and which was given."""
    for place, answer in enumerate(table.asked.library.checks[check].answers):
        sign = chr(ord("a") + place)
        usual = " (usual)" if answer.id == table.found.matrix.usual[check] else ""
        seen = " — answered" if table.answered(check) == sign else ""
        yield f"{sign}  {clean(answer.text)}{usual}{seen}"


def _legend(table: Table) -> tuple[Sample, ...]:
    evidence = table.asked.evidence
    bar = Shape("sample-bar", "bar", 0, 0, 26, 5, value=0.6)
    return used(
        [
            (True, sample("box", "an unusual answer, by its letter", "b", look="caution")),
            (True, sample("box", "the usual answer: as while nothing is wrong", look="frame")),
            (bool(table.found.groups), sample("box", "ambiguity group: no check tells these apart", look="group")),
            (evidence.given, Sample(Group(26, 5, (bar,)), "probability now")),
            (evidence.given, sample("box", "likeliest cause", look="leaf", state="path")),
            (evidence.given, sample("box", "dashed: excluded, or below 0.1 %", look="leaf", state="cleared")),
            (any(table.same_as(check) for check in table.columns), _same()),
            (bool(evidence.replies), sample("box", "check answered in this case", "3", look="mark", state="odd")),
        ]
    )


def _same() -> Sample:
    sign = Shape("sample-same", "text", 0, 2, 26, 11, ("= 3",), SMALL, bold=True)
    return Sample(Group(26, 15, (sign,)), "tells the same as this column, in other words")


# --- without places --------------------------------------------------------------------------------

SIGNS = "A letter: the answer that the check would give; a dot: its usual answer, as while nothing is wrong."
TITLE, WIDE = 33, 44
"""The columns of a cause's title as text, and of the cells beside it."""


def _lines(table: Table) -> Iterator[str]:
    """The matrix as text, as many checks to a piece as fit beside the titles; then the key."""
    cell = 2 if len(table.columns) < 10 else 3
    across = WIDE // cell
    for start in range(0, len(table.columns), across):
        checks = table.columns[start : start + across]
        numbers = range(start + 1, start + 1 + len(checks))
        yield " " * (TITLE + 3) + "".join(f"{number:>{cell}}" for number in numbers)
        for group in table.groups:
            frame = " " if len(group) == 1 else "|"
            for cause in group:
                first, *more = textwrap.wrap(clean(table.asked.library.causes[cause].title), TITLE)
                cells = "".join(f"{table.cell(cause, check) or '.':>{cell}}" for check in checks)
                yield f"{frame} {first:<{TITLE + 1}}{cells}"
                yield from (f"{frame}   {line}" for line in more)
        yield ""
    yield from textwrap.wrap(table.facts(), TITLE + WIDE)
    yield ""
    for number, check in enumerate(table.columns, 1):
        yield f"{number:>3}  {clean(table.asks(check))}"
        yield from (f"       {line}" for line in _answers(table, check))
        for other in table.same_as(check):
            yield f"       =  {clean(table.asks(other))} {clean(table.instead(check, other))}"


def _vertices(table: Table) -> Iterator[Vertex]:
    causes = table.asked.library.causes
    for group in table.groups:
        state = table.asked.evidence.state(group[0]) if len(group) == 1 else ""
        yield Vertex(group[0], "round", "\n".join(causes[name].title for name in group), state)
    for number, check in enumerate(table.columns, 1):
        yield Vertex(check, "box", f"{number}. {table.asked.library.checks[check].title}")


def _arcs(table: Table) -> Iterator[Arc]:
    for group in table.groups:
        for check in table.columns:
            letter = table.cell(group[0], check)
            if letter:
                yield Arc(group[0], check, letter)
