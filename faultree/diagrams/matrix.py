"""Causes by checks as a drawing: what each check would show for each cause, ambiguity groups boxed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import islice

from faultree.base.words import percent
from faultree.diagrams.drawing import Drawing, Request
from faultree.diagrams.frame import Frame, Sample, sample, sheet, used
from faultree.diagrams.metrics import clean, wrap
from faultree.diagrams.paper import Paper
from faultree.diagrams.picture import SMALL, Arc, Group, Plain, Shape, Sheet, State, Vertex, text_height, together
from faultree.strategy.testability import Testability

NAME = 190.0
"""The width of a cause's title, in points."""

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
        """The checks that tell something; of checks with the same answers for every cause, the first."""
        seen: dict[tuple[str, ...], str] = {}
        for check in self.found.telling:
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

    def facts(self) -> str:
        """What the checks can tell at best."""
        if not self.found.matrix.causes:
            return (
                "No single fault produces this symptom, so there is nothing to tell apart by one check after another."
            )
        shares = [("revealed by some check", self.found.detected)]
        shares += [("of those told apart to one item", self.found.isolated[1])]
        words = [f"{percent(share)} {what}" for what, share in shares if share is not None]
        return f"{len(self.found.matrix.causes)} single faults; " + ", ".join(words) + "."

    def answered(self, check: str) -> str:
        """The letter of the answer that the case has for a check; empty without one."""
        reply = self.asked.evidence.replies.get(check)
        answers = [answer.id for answer in self.asked.library.checks[check].answers]
        return chr(ord("a") + answers.index(reply)) if reply in answers else ""


# --- the picture -----------------------------------------------------------------------------------


def _alone(table: Table, frame: Frame) -> tuple[Sheet, ...]:
    grid = _grid(table, table.groups, table.columns, 1)
    width = max(grid.w, 2 * KEY + GAP)
    key = _key(table, width, 1e9)[0]
    return (sheet(frame, together([grid, key.moved(0, grid.h + GAP)]), 1, 1, None),)


def _on_paper(table: Table, frame: Frame, paper: Paper) -> tuple[Sheet, ...]:
    """The matrix on one sheet if it can be, else cut into bands; then the key."""
    w, h = paper.room[0], paper.room[1] - frame.height(paper.room[0])
    side = NAME + (PROBABILITY if table.asked.evidence.given else 0.0)
    whole = _grid(table, table.groups, table.columns, 1)
    scale = max(SMALLEST, min(1.0, w / max(whole.w, 1), h / max(whole.h, 1)))
    across = max(1, int((w / scale - side) // CELL[0]))
    bands = [table.columns[start : start + across] for start in range(0, len(table.columns), across)] or [()]
    pages = [
        _grid(table, rows, band, 1 + across * number).scaled(scale)
        for rows in _row_bands(table.groups, (h / scale - HEAD) / CELL[1])
        for number, band in enumerate(bands)
    ]
    keys = _key(table, w, h)
    if len(pages) == 1 and len(keys) == 1 and pages[0].h + GAP + keys[0].h <= h:
        pages = [together([pages[0], keys[0].moved(0, pages[0].h + GAP)])]
    else:
        pages += keys
    return tuple(sheet(frame, group, number, len(pages), paper) for number, group in enumerate(pages, 1))


def _row_bands(groups: Sequence[tuple[str, ...]], most: float) -> Iterator[list[tuple[str, ...]]]:
    """Groups in bands of rows that a page holds; a group that is higher than a page is cut."""
    band: list[tuple[str, ...]] = []
    for group in groups:
        for start in range(0, len(group), max(1, int(most))):
            part = group[start : start + max(1, int(most))]
            if band and sum(map(len, band)) + len(part) > most:
                yield band
                band = []
            band.append(part)
    if band:
        yield band


def _grid(table: Table, groups: Sequence[tuple[str, ...]], checks: Sequence[str], first: int) -> Group:
    """A piece of the matrix: its head with the numbers of the checks, and its rows."""
    evidence = table.asked.evidence
    side = NAME + (PROBABILITY if evidence.given else 0.0)
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
            y += CELL[1]
    width = side + len(checks) * CELL[0]
    shapes += _boxes(groups, width)
    return Group(width, y, tuple(shapes))


def _row(table: Table, cause: str, checks: Sequence[str], side: float, y: float) -> Iterator[Shape]:
    """One cause: its title, its probability where there is a case, and its cells."""
    entry, evidence = table.asked.library.causes[cause], table.asked.evidence
    state = evidence.state(cause)
    lines = wrap(entry.title, NAME - 6, SMALL, bold=state == "path", most=1)
    yield Shape(
        cause, "box", 0, y, NAME, CELL[1], lines, SMALL, state == "path", "start", "leaf", state, entry.title, cause
    )
    if evidence.given:
        value, says = evidence.probabilities.get(cause, 0.0), evidence.says(cause)
        words = "excl." if says == "excluded" else says
        yield Shape(f"{cause}!bar", "bar", NAME + 2, y + CELL[1] - 4, PROBABILITY - 4, 3, value=value)
        yield Shape(f"{cause}!percent", "text", NAME + 2, y, PROBABILITY - 4, CELL[1] - 4, (words,), 6.0, True)
    for place, check in enumerate(checks):
        letter = table.cell(cause, check)
        yield Shape(
            f"{cause}>{check}",
            "box",
            side + place * CELL[0],
            y,
            *CELL,
            (letter,) if letter else (),
            SMALL,
            bold=True,
            look="caution" if letter else "frame",
        )


def _boxes(groups: Sequence[tuple[str, ...]], width: float) -> Iterator[Shape]:
    """A heavy frame around each group of two or more."""
    y = HEAD
    for group in groups:
        height = len(group) * CELL[1]
        if len(group) > 1:
            yield Shape(f"group-{group[0]}", "box", -1, y, width + 2, height, look="group", title="ambiguity group")
        y += height


def _key(table: Table, width: float, height: float) -> list[Group]:
    """The checks by number with the letters of their answers, in columns, over as many pages as it takes."""
    count = max(1, int((width + GAP) // (KEY + GAP)))
    entries = [_key_entry(table, number, check) for number, check in enumerate(table.columns, 1)]
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


def _key_entry(table: Table, number: int, check: str) -> Group:
    entry = table.asked.library.checks[check]
    same = table.same_as(check)
    title = wrap(entry.title, KEY - 24, SMALL, bold=True, most=4)
    small: list[str] = []
    for answer in entry.answers:
        sign = chr(ord("a") + entry.answers.index(answer))
        usual = " (while nothing is wrong)" if answer.id == table.found.matrix.usual[check] else ""
        seen = " — answered" if table.answered(check) == sign else ""
        small += wrap(f"{sign}  {answer.text}{usual}{seen}", KEY - 24, 6.5, most=3, even=False)
    if same:
        titles = [table.asked.library.checks[other].title for other in islice(same, 3)]
        more = f" and {len(same) - 3} more" if len(same) > 3 else ""
        small += wrap(f"the same: {'; '.join(titles)}{more}", KEY - 24, 6.5, most=5, even=False)
    high, low = text_height(len(title), SMALL), text_height(len(small), 6.5)
    shapes = (
        Shape(f"key-{number}!number", "text", 0, 2, 20, text_height(1, SMALL), (str(number),), SMALL, True),
        Shape(
            f"key-{number}", "text", 22, 2, KEY - 24, high, title, SMALL, True, "start", title=entry.title, source=check
        ),
        Shape(f"key-{number}!answers", "text", 22, 2 + high, KEY - 24, low, tuple(small), 6.5, align="start"),
    )
    return Group(KEY, high + low + 7, shapes)


def _legend(table: Table) -> tuple[Sample, ...]:
    evidence = table.asked.evidence
    bar = Shape("sample-bar", "bar", 0, 0, 26, 5, value=0.6)
    return used(
        [
            (True, sample("box", "another answer than while nothing is wrong: its letter", "b", look="caution")),
            (True, sample("box", "the usual answer", look="frame")),
            (bool(table.found.groups), sample("box", "ambiguity group: no check tells these apart", look="group")),
            (evidence.given, Sample(Group(26, 5, (bar,)), "probability now")),
            (evidence.given, sample("box", "likeliest cause", look="leaf", state="path")),
            (evidence.given, sample("box", "dashed: excluded, or below 0.1 %", look="leaf", state="cleared")),
            (bool(evidence.replies), sample("box", "check answered in this case", "3", look="mark", state="odd")),
        ]
    )


# --- without places --------------------------------------------------------------------------------

SIGNS = "A letter: the answer that the check would give; a dot: what it shows while nothing is wrong."
ACROSS = 20


def _lines(table: Table) -> Iterator[str]:
    """The matrix as text, as many checks to a piece as fit beside the titles; then the key."""
    for start in range(0, len(table.columns), ACROSS):
        checks = table.columns[start : start + ACROSS]
        yield " " * 36 + "".join(f"{number:>2}" for number in range(start + 1, start + 1 + len(checks)))
        for group in table.groups:
            for place, cause in enumerate(group):
                frame = " " if len(group) == 1 else "|"
                title = _short(clean(table.asked.library.causes[cause].title), 33)
                cells = "".join(f" {table.cell(cause, check) or '.'}" for check in checks)
                yield f"{frame} {title:<34}{cells}"
                del place
        yield ""
    for number, check in enumerate(table.columns, 1):
        entry = table.asked.library.checks[check]
        yield f"{number:>3}  {clean(entry.title)}"
        for place, answer in enumerate(entry.answers):
            yield f"       {chr(ord('a') + place)}  {clean(answer.text)}"


def _short(words: str, most: int) -> str:
    return words if len(words) <= most else words[: most - 1] + "…"


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
