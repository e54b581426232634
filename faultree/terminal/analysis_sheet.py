"""Draws an analysis for a person: sentences first, then tables that fit the page, then who decides."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from faultree.base.words import minutes, percent
from faultree.belief.importance import Importance
from faultree.terminal.look import Page, text, title
from faultree.terminal.parts import NARROW, bar, heading, indented, joined, rows
from faultree.walk.analysis_page import SMALL, AnalysisPage, Covered, GroupBlock, SetLine, SetTable, chance, share
from faultree.walk.headlines import sets_of

FIGURES = ("given", "Birnbaum", "F-V", "critical", "RAW", "RRW")
"""The figures of a cause, in the order of the columns."""

MEANING = (
    ("given", "how likely the cause is once this is reported"),
    ("Birnbaum", "how much likelier this becomes when the cause comes about (below 0: less likely)"),
    ("F-V", "Fussell-Vesely: share of the sets that hold the cause in the sum of all sets"),
    ("critical", "share of this probability that would be gone if the cause could not occur"),
    ("RAW", "so many times likelier would this be if the cause were certain"),
    ("RRW", "so many times rarer would this be if the cause could not occur"),
)
"""What stands below the figures, so that nobody has to look them up."""

NAMES = {
    1: "Single faults that cause it",
    2: "Pairs of faults that cause it only together",
    3: "Triples of faults that cause it only together",
}
"""Headings of the sets by size."""

SHARES = ("revealed", "to 1 item", "to 2", "to 3")
"""The fractions: detected, and isolated to so many items or fewer."""

DECIDES = (("decides", "share of the states of everything else in which it is this fault that decides"),)
"""The same for the ranking by structure."""

SHARES_MEAN = (
    ("revealed", "share of these faults, by probability, of which some check shows a sign (fraction detected)"),
    (
        "to 1, 2, 3",
        "share of the revealed ones that the checks narrow down to so many items or fewer (fraction isolated)",
    ),
)

SPARED = (
    (False, "Checks that add nothing, one fault at a time"),
    (True, "Quick checks that add nothing to a longer one"),
)
"""Headings of the checks that could be spared, by whether they are quicker than the one that tells as much."""

WIDEST_TABLE = 100
"""A wider table would part its figures too far from what they belong to."""


def draw_analysis(shown: AnalysisPage, page: Page) -> RenderableType:
    """The whole sheet."""
    return Group(*_parts(shown, page))


def _parts(shown: AnalysisPage, page: Page) -> Iterator[RenderableType]:
    yield heading(shown.title, page)
    if shown.situation:
        yield text(f"Reported in the situation “{shown.situation}”.", "dim")
    yield rows((("-", text(one)) for one in shown.headlines), first=1)
    yield from _sets(shown, page)
    yield from _matters(shown, page)
    yield from _structure(shown, page)
    yield from _apart(shown, page)
    remarks = [text(one, "dim") for one in _remarks(shown)]
    if remarks:
        yield Group("", *remarks)
    yield ""
    yield Text(shown.notice, "yellow")


def _remarks(shown: AnalysisPage) -> Iterator[str]:
    """What explains the figures of the whole sheet."""
    lines = [line for table in shown.sets for line in table.lines]
    if shown.scale and shown.only_bands:
        yield f"All figures rest on likelihood bands alone. {shown.scale}"
    elif shown.scale:
        starred = any(line.banded for line in lines)
        what = "* rests on a likelihood band" if starred else "Some figures rest on likelihood bands"
        yield f"{what}. {shown.scale}"
    small = [line.probability for line in lines if 0.0 < line.probability < SMALL]
    if small:
        figure = chance(max(small))
        yield f"Small figures: {figure} means {Decimal(figure):f}."


def _head(words: str) -> Iterator[RenderableType]:
    yield ""
    yield Text(words, "bold")


# --- which faults cause it --------------------------------------------------------------------------


def _sets(shown: AnalysisPage, page: Page) -> Iterator[RenderableType]:
    """The tables of sets that list any; then the sizes of which none is listed, in a line each."""
    for table in shown.sets:
        if table.lines:
            yield from _head(NAMES.get(table.order, f"Sets of {table.order} faults that cause it only together"))
            lines = ((_set(line), (chance(line.probability) + _mark(line.banded, shown),)) for line in table.lines)
            yield indented(_table(lines, ("probability",), page))
            if table.more:
                yield indented(text(_more(table.more, _none_above(table)), "dim"))
    larger = [table for table in shown.sets if not table.lines]
    if larger:
        yield ""
        for table in larger:
            count, pronoun = sets_of(table.order, table.more), "them" if table.more > 1 else "it"
            yield text(f"{count} faults{_none_above(table)}; --all lists {pronoun}", "dim")
    if shown.left_out:
        yield ""
        yield text(shown.left_out)


def _set(line: SetLine) -> Text:
    first, *others = line.titles
    return joined([title(first), *map(text, others)], " + ")


def _mark(banded: bool, shown: AnalysisPage) -> str:
    """The mark of a figure that rests on a band, where others do not; in its place a space keeps figures in line."""
    if not shown.scale or shown.only_bands:
        return ""
    return "*" if banded else " "


def _none_above(table: SetTable) -> str:
    return f", {'none above' if table.more > 1 else 'at'} {chance(table.at_most)}"


def _more(count: int, remark: str = "") -> str:
    return f"and {count} more{remark}; --all lists them"


# --- which matter most ------------------------------------------------------------------------------


def _matters(shown: AnalysisPage, page: Page) -> Iterator[RenderableType]:
    if not shown.importance:
        return
    yield from _head("What matters most")
    yield indented(text(shown.probability))
    yield indented(_table(((title(name), _of(one)) for name, one in shown.importance), FIGURES, page))
    if shown.more_importance:
        yield indented(text(_more(shown.more_importance), "dim"))
    if shown.hindering:
        yield indented(text(shown.hindering, "dim"))
    yield indented(_meanings(MEANING, page))


def _of(one: Importance) -> tuple[str, ...]:
    """A cause's figures in the order of FIGURES."""
    return (
        percent(one.given),
        chance(one.birnbaum),
        percent(one.fussell_vesely),
        percent(one.criticality),
        times(one.achievement),
        times(one.reduction),
    )


def times(factor: float) -> str:
    """A factor in as many figures as mean something.

    >>> times(1.0003), times(23.4), times(28558.5), times(float("inf"))
    ('1.0', '23', '28600', 'no end')
    """
    if factor == float("inf"):
        return "no end"
    return f"{factor:.1f}" if factor < 9.95 else f"{float(f'{factor:.3g}'):.0f}"


def _structure(shown: AnalysisPage, page: Page) -> Iterator[RenderableType]:
    if not shown.structural:
        return
    yield from _head("What matters most by structure alone, without any likelihood")
    columns = ("decides",) if page.spoken else ("", "decides")
    lines = (
        (title(name), (percent(value),) if page.spoken else (bar(value, 10, page.plain), percent(value)))
        for name, value in shown.structural
    )
    yield indented(_table(lines, columns, page))
    yield indented(_meanings(DECIDES, page))
    if shown.more_structural:
        yield indented(text(_more(shown.more_structural), "dim"))


# --- what the checks can tell apart -----------------------------------------------------------------


def _apart(shown: AnalysisPage, page: Page) -> Iterator[RenderableType]:
    if shown.teams:
        yield from _head("What the checks can tell apart, one fault at a time")
        if shown.about_singles:
            yield indented(text(shown.about_singles))
        yield indented(_teams(shown, page))
    elif shown.about_singles:
        yield ""
        yield text(shown.about_singles)
    if shown.groups:
        yield from _head(f"Faults that {shown.no_check} separates")
    for number, block in enumerate(shown.groups):
        yield from _group(block, first=not number)
    if shown.more_groups:
        yield ""
        yield indented(text(f"and {shown.more_groups} more groups; --all lists them", "dim"))
    if shown.unrevealed:
        yield from _head(f"Faults that {shown.no_check} reveals")
        yield rows((("-", title(one)) for one in shown.unrevealed), first=1)
        if shown.more_unrevealed:
            yield indented(text(_more(shown.more_unrevealed), "dim"))
    for quicker, words in SPARED:
        yield from _spared(words, [one for one in shown.covered if one.quicker == quicker])


def _spared(words: str, groups: Sequence[Covered]) -> Iterator[RenderableType]:
    """Checks that could be spared, below the one beside which they add nothing."""
    if groups:
        yield from _head(words)
    for group in groups:
        yield indented(text(f"“{group.title}” ({minutes(group.minutes)}) tells all that {_these(group)}:"))
        yield rows((("-", text(f"{name} ({minutes(takes)})")) for name, takes in group.others), first=1, indent=4)
        if group.more:
            yield indented(text(_more(group.more), "dim"), 4)


def _these(group: Covered) -> str:
    return "this one tells" if len(group.others) == 1 else "these tell"


def _teams(shown: AnalysisPage, page: Page) -> RenderableType:
    lines = ((text(one.who), tuple(map(share, (one.detected, *one.isolated)))) for one in shown.teams)
    return Group(_table(lines, SHARES, page, head="checks made by"), _meanings(SHARES_MEAN, page))


def _group(block: GroupBlock, *, first: bool) -> Iterator[RenderableType]:
    if not first:
        yield ""
    letters = (chr(ord("A") + at) if at < 26 else str(at + 1) for at in range(len(block.titles)))
    yield rows(zip(letters, map(title, block.titles), strict=True), first=2)
    if block.one_item:
        yield indented(text(f"All are faults of one item: {block.one_item}."))
    yield indented(text(block.remedy))


# --- tables -----------------------------------------------------------------------------------------


def _table(
    lines: Iterable[tuple[Text, Sequence[str]]], columns: Sequence[str], page: Page, head: str = ""
) -> RenderableType:
    """Lines with figures in columns, or with the figures in words where columns have no room or nobody sees them."""
    if page.spoken or page.width < NARROW:
        return Group(*(_said(name, figures, columns, head) for name, figures in lines))
    grid = Table.grid(padding=(0, 2, 0, 0), expand=True)
    grid.width = min(page.width, WIDEST_TABLE) - 2
    grid.add_column(ratio=1, overflow="fold")
    for _ in columns:
        grid.add_column(justify="right", no_wrap=True)
    grid.add_row(Text(head, "dim"), *(Text(name, "dim") for name in columns))
    for name, figures in lines:
        grid.add_row(name, *figures)
    return grid


def _said(name: Text, figures: Sequence[str], columns: Sequence[str], head: str) -> Text:
    """One line of a table as words: what it is about, then each figure behind its column."""
    words = (text(f"{column} {figure}") for column, figure in zip(columns, figures, strict=True))
    return joined([Text.assemble(f"{head} " if head else "", name), *words])


def _meanings(pairs: Sequence[tuple[str, str]], page: Page) -> RenderableType:
    """What the headings of columns mean."""
    if page.spoken:
        return Group(*(text(f"{name}: {words}") for name, words in pairs))
    first = max(len(name) for name, _ in pairs)
    return rows(((Text(name, "dim"), text(words, "dim")) for name, words in pairs), first=first, indent=0)
