"""The parts that screens are made of: headings, hanging rows, bars, moves, cautions and choices."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from faultree.base.words import and_more, listing, minutes, percent
from faultree.terminal.look import Page, text, title
from faultree.walk.effort import brief
from faultree.walk.prompt import CautionLine, Choice, Leaves, SuspectLine, Suspects, Together

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
"""The letters by which the suspects of a screen can be named."""

SECOND = 0.05
"""A second suspect is named beside an answer where it would be this likely or more."""

NARROW = 60
"""Below this width there is no room for bars."""

LEVEL_STYLES = {"warning": "bold red", "caution": "bold yellow", "note": "bold"}

STILL = 0.01
"""An answer that would move no suspect by more than this changes nothing worth a word."""

TAKES = "Takes: with access still to open and, for a repair, the operational check."
"""What is in the time of a step, below a list that shows it."""

LEADS = {"check": "Check: ", "replace": "Put right: "}
"""What a choice that leads to another step begins with."""


def indented(part: RenderableType, by: int = 2) -> Padding:
    """A part moved to the right; its lines wrap inside what is left."""
    return Padding(part, (0, 0, 0, by))


def heading(words: str, page: Page, right: str = "") -> RenderableType:
    """A heading over a line, with something short at its right end where there is room."""
    if page.spoken:
        return Group(*(title(one, "bold") for one in (words, right) if one))
    head = title(words, "bold")
    if right and len(head) + len(right) + 3 <= page.width:
        head.append(" " * (page.width - len(head) - len(right)))
        head.append(right, "dim")
    return Group(head, Text(("-" if page.plain else "─") * page.width, "dim"))


def rows(pairs: Iterable[tuple[Text | str, RenderableType]], first: int, indent: int = 2) -> RenderableType:
    """Rows with a first column of `first` cells; the second wraps and hangs beside it."""
    table = Table.grid(padding=(0, 1, 0, 0), expand=True)
    table.add_column(width=first, overflow="fold")
    table.add_column(ratio=1, overflow="fold")
    for label, part in pairs:
        table.add_row(label, part)
    return indented(table, indent)


def joined(parts: Iterable[Text | str], between: str = ", ") -> Text:
    """Texts in a row."""
    return Text(between).join([Text(part) if isinstance(part, str) else part for part in parts])


# --- suspects ----------------------------------------------------------------------------------


def bar(probability: float, cells: int, plain: bool) -> str:
    """A bar of `cells` cells; what is above nothing always shows a sign.

    >>> bar(0.5, 4, plain=True), bar(0.001, 4, plain=False), bar(1.0, 4, plain=False)
    ('##', '▏', '████')
    """
    if plain:
        return "#" * max(round(min(probability, 1.0) * cells), 1)
    eighths = max(round(min(probability, 1.0) * cells * 8), 1)
    whole, rest = divmod(eighths, 8)
    return "█" * whole + (" ▏▎▍▌▋▊▉"[rest] if rest else "")


def move(line: SuspectLine, plain: bool) -> Text:
    """How a suspect moved with the last answer: a mark or a word, and the number it came from."""
    before, now = line.before, line.probability
    if before is None:
        return Text("")
    if percent(now) == percent(before):
        return Text("as before", "dim")
    up = now > before
    words = ("up" if up else "down") if plain else ("▲" if up else "▼")
    return Text(f"{words} from {percent(before)}", "yellow" if up else "cyan")


def suspect_table(suspects: Suspects, page: Page, letters: bool = True) -> RenderableType:
    """The suspects with letters, bars, numbers and moves."""
    if page.spoken:
        table = _spoken(suspects, letters)
    else:
        table = _narrow(suspects, page, letters) if page.width < NARROW else _wide(suspects, page, letters)
    return Group(table, *(indented(text(one, "dim")) for one in _beside(suspects)))


def _wide(suspects: Suspects, page: Page, letters: bool) -> RenderableType:
    cells = 24 if page.wide else 10
    moved = any(line.before is not None for line in suspects.lines)
    table = Table.grid(padding=(0, 1, 0, 0), expand=True)
    if letters:
        table.add_column(width=1)
    table.add_column(ratio=1, overflow="fold")
    table.add_column(width=cells)
    table.add_column(width=7, justify="right")
    if moved:
        table.add_column(width=16 if page.plain else 14)
    for index, line in enumerate(suspects.lines):
        letter = (LETTERS[index],) if letters else ()
        figure = Text(percent(line.probability), "bold")
        shown = (title(line.title), Text(bar(line.probability, cells, page.plain), "blue"), figure)
        table.add_row(*letter, *shown, *((move(line, page.plain),) if moved else ()))
    return indented(table)


def _narrow(suspects: Suspects, page: Page, letters: bool) -> RenderableType:
    """Without bars, the figures below the title: a narrow window has no room for columns."""
    pairs = []
    for index, line in enumerate(suspects.lines):
        figures = joined([Text(percent(line.probability), "bold"), move(line, page.plain)], " ")
        pairs.append((LETTERS[index] if letters else "", Group(title(line.title), figures)))
    return rows(pairs, first=1)


def _spoken(suspects: Suspects, letters: bool) -> RenderableType:
    """One sentence for each, as nobody sees columns when they are read aloud."""
    lines = []
    for index, line in enumerate(suspects.lines):
        parts = (title(line.title), Text(percent(line.probability)), move(line, plain=True))
        said = joined(part for part in parts if part)
        lines.append(Text.assemble(f"{LETTERS[index]}: ", said) if letters else said)
    return Group(*lines)


def _beside(suspects: Suspects) -> Iterator[str]:
    """What stands below the suspects: how many more, faults that act together, and the bound."""
    if suspects.more:
        last = suspects.lines[-1].probability if suspects.lines else None
        yield and_more(suspects.more, suspects.at_most, last)
    yield from (pair_words(one) for one in suspects.together)
    if suspects.bound > 0:
        yield f"These figures are not exact: each may be off by up to {percent(suspects.bound)}."


def pair_words(one: Together) -> str:
    """Faults that explain the case only together, in words."""
    return f"Together: {' with '.join(one.titles)}, {percent(one.probability)}"


# --- cautions ----------------------------------------------------------------------------------


def caution_rows(lines: Sequence[CautionLine]) -> RenderableType:
    """Cautions, each behind its level in capitals, and those marked that were read before this step."""
    pairs = ((Text(line.level.upper(), LEVEL_STYLES[line.level]), _caution(line)) for line in lines)
    return rows(pairs, first=7)


def _caution(line: CautionLine) -> Text:
    # In full even where it was read before: the instruction stands behind the hazard.
    return joined([text(line.text), Text("(read before)", "dim")], " ") if line.read else text(line.text)


# --- choices -----------------------------------------------------------------------------------


def choice_rows(choices: Sequence[Choice], first_number: int, page: Page) -> RenderableType:
    """Choices behind their numbers."""
    numbers = (Text(f"{first_number + index:>2}", "bold") for index in range(len(choices)))
    return rows(((number, choice_text(one, page)) for number, one in zip(numbers, choices, strict=True)), first=2)


def choice_text(choice: Choice, page: Page) -> RenderableType:
    """A choice in words: its text, and behind or below it what it costs or leaves."""
    lead = LEADS.get(choice.kind, "")
    first = Text.assemble(lead, text(choice.text) if lead else title(choice.text, "bold"))
    if choice.leaves is not None:
        return Group(first, text(leaves_words(choice.leaves, 2 if page.wide else 1), "dim"))
    facts = ", ".join(_facts(choice))
    if choice.if_wrong is not None:
        name, probability = choice.if_wrong
        wrong = text(f"If this one is wrong, {name} is likeliest ({percent(probability)}).", "dim")
        return Group(Text.assemble(first, text(f" ({facts})" if facts else "", "dim")), wrong)
    return Text.assemble(first, text(f" ({facts})", "dim")) if facts else first


def _facts(choice: Choice) -> Iterator[str]:
    if choice.kind == "replace" and choice.probability is not None:
        yield f"{percent(choice.probability)} likely"
    if choice.minutes is not None:
        yield brief(choice.minutes, repair=choice.kind == "replace")
    if choice.kind == "available" and choice.detail:
        yield choice.detail
    if choice.by and choice.by != "line":
        yield f"by {choice.by}"
    if choice.cautions:
        yield "cautions apply"
    if choice.waits:
        yield "not available today"
    if choice.detail == "newest":
        yield "your last answer"


def leaves_words(leaves: Leaves, named: int) -> str:
    """What an answer would leave, in a line that names so many suspects.

    >>> leaves_words(Leaves(0.25, (("pump worn", 0.7), ("line broken", 0.2)), 3, 4), 2)
    '25 % likely; would point to pump worn (70 %) and line broken (20 %), and exclude 3 suspects'
    >>> leaves_words(Leaves(0.25, (("pump worn", 0.7),), 0, 4, moved=0.001), 2)
    '25 % likely; would leave the suspects as they are'
    """
    if leaves.probability <= 0:
        return "would contradict what is known so far"
    shown = [one for index, one in enumerate(leaves.first[:named]) if index == 0 or one[1] >= SECOND]
    first = listing(f"{words} ({percent(probability)})" for words, probability in shown)
    parts = [f"{percent(leaves.probability)} likely"]
    if leaves.moved < STILL:
        parts.append("would leave the suspects as they are")
    elif first:
        parts.append(f"would point to {first}")
    count = leaves.excluded
    exclude = f", and exclude {count} suspect{'' if count == 1 else 's'}" if count else ""
    return "; ".join(parts) + exclude


def choice_table(
    choices: Sequence[Choice], first_number: int, columns: tuple[str, str, str], page: Page
) -> RenderableType:
    """Many choices behind their numbers, with two figures each; `columns` heads the text and the figures."""
    numbered = list(enumerate(choices, first_number))
    if page.spoken:
        heads = (Text.assemble(f"{number}: ", _called(one)) for number, one in numbered)
        figures = (f"{columns[1]} {_takes(one)}, {_figure(one)} {columns[2]}" for one in choices)
        return Group(Text(f"{columns[0]}:"), *map(joined, zip(heads, figures, strict=True)))
    table = Table.grid(padding=(0, 1, 0, 0), expand=True)
    # As wide as the numbers of choices that stand above or below a table.
    table.add_column(width=max(2, len(str(first_number + len(choices) - 1))), justify="right")
    table.add_column(ratio=1, overflow="fold")
    table.add_column(width=10, justify="right")
    table.add_column(width=9, justify="right")
    table.add_row("", *(Text(column, "dim") for column in columns))
    for number, one in numbered:
        table.add_row(Text(str(number), "bold"), _called(one), _takes(one), _figure(one))
    return indented(table)


def _called(choice: Choice) -> Text:
    """The title of a choice, and who can make it and what comes before it."""
    who = f"by {choice.by}" if choice.by not in ("", "line") else ""
    waits = "not available today" if choice.waits else ""
    extra = ", ".join(filter(None, (who, "cautions apply" if choice.cautions else "", waits)))
    return Text.assemble(title(choice.text), text(f" ({extra})" if extra else "", "dim"))


def _takes(choice: Choice) -> str:
    return minutes(choice.minutes or 0.0)


def _figure(choice: Choice) -> str:
    return f"{choice.bits:.2f}" if choice.bits is not None else percent(choice.probability or 0.0)
