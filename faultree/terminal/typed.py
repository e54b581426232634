"""From a typed line to an event of the walk, to something the screen does itself, or to a question back."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import get_args

from faultree.base.errors import FaultreeError, UnknownName
from faultree.base.words import capital, listing, near
from faultree.library.model import Who
from faultree.terminal import absent
from faultree.terminal.look import title
from faultree.terminal.meant import Help, Meant, ShowAgain, ShowSuspects, Unclear, Write, number
from faultree.terminal.parts import LETTERS
from faultree.walk import events as ev
from faultree.walk import names, titles
from faultree.walk.prompt import Prompt, StepPrompt
from faultree.walk.state import Walk
from faultree.walk.table import TRANSITIONS, Phase
from faultree.walk.today import only
from faultree.walk.view import event_of


@dataclass(frozen=True, slots=True)
class Command:
    """A word that can be typed, what it takes, what it does, and the kind of event it leads to (None: any time)."""

    word: str
    takes: str
    does: str
    event: type[ev.Event] | None
    others: tuple[str, ...] = ()


COMMANDS = (
    Command("ok", "", "say that you have read what is shown", ev.Acknowledge, ("okay", "read", "understood")),
    Command("can't tell", "", "the check cannot be answered; nothing changes", ev.CannotTell,
            ("cant tell", "cannot tell", "dont know", "do not know", "not sure", "unsure", "unknown", "no idea",
             "dont remember", "do not remember", "cant remember", "cannot remember", "dont recall", "do not recall",
             "cant recall", "forgot", "dunno", "cant say", "cannot say", "did not look", "didnt look",
             "never looked")),
    Command("undo", "", "take the last answer back", ev.Undo, ("take back",)),
    Command("not today", "[X]", "leave out what needs tool or access X, or the step on view, until it is there",
            ev.NotToday, ("not available", "unavailable")),
    Command("available", "[X]", "it is there after all", ev.Available, ("here again", "back again")),
    Command("also", "SYMPTOM", "something else was reported as well; it joins the case, all answers are kept",
            ev.Also, ("and also",)),
    Command("by", "WHO", "propose only checks by WHO (crew, line, shop), or by anyone", ev.By),
    Command("can't duplicate", "", "the symptom cannot be seen again; what that changes and what not",
            ev.CannotDuplicate, ("cant duplicate", "cannot duplicate", "could not duplicate", "cannot reproduce",
                                 "cant reproduce", "cnd")),
    Command("seen again", "", "the symptom has shown itself again", ev.SeenAgain),
    Command("history", "", "how each suspect moved, and because of which answer", ev.AskHistory),
    Command("closed", "[X]", "X was closed, or its locks, pins or tags taken out; record it", ev.Closed,
            ("taken out",)),
    Command("why", "[X]", "explain the step on view, or a suspect (by letter), check or item", ev.AskWhy),
    Command("all", "", "list every check and replacement", ev.ShowAll, ("list", "checks")),
    Command("back", "", "leave the list", ev.Back),
    Command("suspects", "", "show every suspect, however unlikely", ev.AskWhy),
    Command("check", "X", "do check X next", ev.TakeUp),
    Command("replace", "[X]", "put right the likeliest item, or X", ev.Replace, ("repair", "put right")),
    Command("carry on", "", "go on checking", ev.CarryOn, ("go on", "continue", "resume")),
    Command("note", "TEXT", "keep a remark with the case", ev.Note),
    Command("save", "FILE", "write the case to a file, to resume it later", ev.Save),
    Command("overwrite", "FILE", "the same, over a file that exists", ev.Save),
    Command("finish", "", "end here: what is likely, and the text to hand over", ev.Finish, ("end", "done", "sum up")),
    Command("show", "", "show the screen again", None, ("again", "screen")),
    Command("help", "", "show this", None, ("h", "?")),
    Command("quit", "", "leave", ev.Quit, ("q", "exit", "bye")),
)  # fmt: skip
"""Every command word; the screen's help and the reader both use this list."""


OFFERED = 8
"""So many reports are named that some words fit."""

ANYONE = ("anyone", "anybody", "everyone", "everybody", "all")
"""Words for whoever may be there."""

REPLIES = ("y", "yes", "n", "no")
"""Words that answer a question; where none is asked they are not the beginning of a command."""


def possible(phase: Phase) -> tuple[Command, ...]:
    """The commands that mean something in this phase."""
    return tuple(one for one in COMMANDS if one.event is None or one.event in TRANSITIONS[phase])


def understand(typed: str, shown: Prompt, walk: Walk) -> Meant:
    """What a typed line means on this screen."""
    line = " ".join(typed.replace("’", "'").split())
    if not line:
        return Unclear("Nothing was typed.")
    if line.isdecimal():
        return _number(line, shown)
    for reading in (_exact_answer, _exact_command, _likely_answer, _short_command, _choice_words):
        found = reading(line, shown, walk)
        if found is not None:
            return found
    return _not_understood(line, shown)


def _number(line: str, shown: Prompt) -> Meant:
    found = event_of(shown, number(line))
    if found is not None:
        return found
    count = len(shown.choices)
    return Unclear(f"There is no number {line[:12]} here; the numbers go from 1 to {count}." if count else "")


def _quoted(words: Iterable[str]) -> str:
    return listing((f"'{word}'" for word in words), "or")


# --- answers -----------------------------------------------------------------------------------


def _answers(shown: Prompt) -> dict[str, tuple[str, ev.Event]]:
    """What can be answered on this screen: every wording and the event behind it."""
    table: dict[str, tuple[str, ev.Event]] = {}
    for choice in shown.choices:
        if choice.kind == "answer":
            table[choice.detail.casefold()] = (choice.text, choice.event)
            table.setdefault(choice.text.casefold(), (choice.text, choice.event))
    if shown.phase is Phase.REPAIR:
        for gone, words in ((True, ("gone", "yes")), (False, ("still there", "no", "not gone"))):
            said = titles.OUTCOMES[gone]
            table.update(dict.fromkeys((*words, said), (capital(said), ev.Retest(gone))))
    return table


def _exact_answer(line: str, shown: Prompt, walk: Walk) -> Meant | None:
    del walk
    found = _answers(shown).get(line.casefold())
    return found[1] if found else None


def _likely_answer(line: str, shown: Prompt, walk: Walk) -> Meant | None:
    """An answer that the line begins, or whose words it begins, where only one does."""
    del walk
    table = _answers(shown)
    begun = {event: said for key, (said, event) in table.items() if key.startswith(line.casefold())}
    found = begun or {event: said for key, (said, event) in table.items() if names.fits(line, key)}
    if len(found) > 1:
        return Unclear(f"'{line}' can mean {_quoted(found.values())}.")
    return next(iter(found), None)


# --- commands ----------------------------------------------------------------------------------


def _spellings(phase: Phase) -> dict[tuple[str, ...], Command]:
    """Every way to spell a command that is possible here, as its words."""
    return {_spoken(spelling): command for command in possible(phase) for spelling in (command.word, *command.others)}


def _spoken(words: str) -> tuple[str, ...]:
    return tuple(words.casefold().replace("'", "").split())


def _exact_command(line: str, shown: Prompt, walk: Walk) -> Meant | None:
    table = _spellings(shown.phase)
    typed = line.split()
    if len(typed) > 1 and typed[0].casefold() == "i":  # as a person says it: I don't remember
        typed = typed[1:]
    for count in range(min(3, len(typed)), 0, -1):
        command = table.get(_spoken(" ".join(typed[:count])))
        if command is not None:
            return _run(command, " ".join(typed[count:]), shown, walk)
    return None


def _short_command(line: str, shown: Prompt, walk: Walk) -> Meant | None:
    """A command by its first letters, where they fit only one."""
    first, _, rest = line.partition(" ")
    if first.casefold() in REPLIES:
        return None
    begun = {command.word: command for command in possible(shown.phase) if command.word.startswith(first.casefold())}
    if not begun or (rest and all(command.takes == "" for command in begun.values())):
        return None
    if len(begun) > 1:
        return Unclear(f"'{first}' can mean {_quoted(begun)}.")
    return _run(next(iter(begun.values())), rest.strip(), shown, walk)


def _run(command: Command, rest: str, shown: Prompt, walk: Walk) -> Meant | None:
    if rest and not command.takes:
        return None
    try:
        if command.event is ev.Save:
            return Write(rest, over=command.word == "overwrite")
        return _TAKING[command.word](rest, shown, walk) if command.takes else _PLAIN[command.word]
    except UnknownName as error:
        return _which(error, walk)
    except FaultreeError as error:
        return Unclear(str(error))


def _which(error: UnknownName, walk: Walk) -> Unclear:
    """An unknown or ambiguous name in the words of the screen, where titles count and not ids."""
    library = walk.library
    entries = {**library.checks, **library.causes, **library.items, **library.symptoms}
    named = tuple(f"{entries[one].title} ({one})" for one in error.candidates if one in entries)
    if error.ambiguous:
        return Unclear(f"'{error.name}' fits more than one:", named)
    return Unclear(f"Nothing here is called '{error.name}'{'; perhaps:' if named else '.'}", named)


def _lettered(rest: str, shown: Prompt) -> str | None:
    """The cause behind a letter of the screen, or what stands behind a number of it."""
    if isinstance(shown, StepPrompt) and len(rest) == 1 and rest.upper() in LETTERS[: len(shown.suspects.lines)]:
        return shown.suspects.lines[LETTERS.index(rest.upper())].cause
    if rest.isdecimal():
        event = event_of(shown, number(rest))
        if isinstance(event, ev.TakeUp):
            return event.check
        if isinstance(event, ev.Replace):
            return event.unit
    return None


def _why(rest: str, shown: Prompt, walk: Walk) -> Meant:
    if not rest:
        return ev.AskWhy()
    known = _lettered(rest, shown)
    if known is None and len(rest) == 1 and rest.isalpha():
        return Unclear(f"No suspect has the letter {rest.upper()} here; type some words of it behind why.")
    return ev.AskWhy(known or names.in_case(walk.open_case, rest))


def _check(rest: str, shown: Prompt, walk: Walk) -> Meant:
    if not rest:
        return Unclear("Which check? Type 'check' and its number or some words of it; 'all' lists them.")
    known = _lettered(rest, shown)
    if known is not None and known in walk.library.checks:
        return ev.TakeUp(known)
    titles = {check.id: check.title for check in walk.library.checks.values()}
    found = names.matches(rest, titles)
    if len(found) == 1:
        return ev.TakeUp(found[0])
    raise UnknownName("check", rest, found[:6] or near(rest, titles), ambiguous=bool(found))


def _replace(rest: str, shown: Prompt, walk: Walk) -> Meant:
    case = walk.open_case
    if not rest:
        units = case.units()
        return ev.Replace(units[0].unit) if units else Unclear("Nothing is under suspicion.")
    known = _lettered(rest, shown)
    if known is not None and known in walk.library.causes:
        known = walk.library.causes[known].item or known
    return ev.Replace(known or names.unit_in_case(case, rest))


def _note(rest: str, shown: Prompt, walk: Walk) -> Meant:
    del shown, walk
    return ev.Note(rest) if rest else Unclear("Type the note behind the word, as in: note seal looks worn")


def _also(rest: str, shown: Prompt, walk: Walk) -> Meant:
    """A further report, by id or words of its title or of what crews say."""
    del shown
    library = walk.library
    if not rest:
        return Unclear("What else was reported? Type: also, and some words of it.")
    fitting = names.symptoms(library, rest)
    found = [name for name in fitting if name not in walk.open_case.symptoms] or fitting
    if len(found) == 1:
        return ev.Also((found[0],))
    if not found:
        near_ones = near(rest, [one.title for one in library.symptoms.values()])
        return Unclear(f"No report fits '{rest[:60]}'; type other words of it.", tuple(near_ones))
    return Unclear(f"'{rest[:60]}' fits more than one report:", tuple(_called(walk, name) for name in found[:OFFERED]))


def _called(walk: Walk, name: str) -> str:
    return f"{walk.library.symptoms[name].title} ({name})"


def _by(rest: str, shown: Prompt, walk: Walk) -> Meant:
    """Whose checks are to be proposed."""
    del shown
    said = [one for one in rest.casefold().replace(",", " ").split() if one not in ("and", "the")]
    if said and all(one in ANYONE for one in said):
        return ev.By()
    people = [person for one in said for person in get_args(Who) if person.startswith(one)]
    if said and len(people) == len(said):
        return ev.By(tuple(dict.fromkeys(people)))
    now = f"{title(only(walk.by)).plain}." if walk.by is not None else "Checks by anyone are proposed."
    return Unclear(f"{now} Type: by, and crew, line, shop (one or two of them) or anyone.")


_PLAIN: dict[str, Meant] = {
    "ok": ev.Acknowledge(),
    "can't tell": ev.CannotTell(),
    "undo": ev.Undo(),
    "can't duplicate": ev.CannotDuplicate(),
    "seen again": ev.SeenAgain(),
    "history": ev.AskHistory(),
    "all": ev.ShowAll(),
    "back": ev.Back(),
    "suspects": ShowSuspects(),
    "carry on": ev.CarryOn(),
    "finish": ev.Finish(),
    "show": ShowAgain(),
    "help": Help(),
    "quit": ev.Quit(),
}
"""What a command without anything behind it means."""

_TAKING: dict[str, Callable[[str, Prompt, Walk], Meant]] = {
    "why": _why,
    "check": _check,
    "replace": _replace,
    "note": _note,
    "also": _also,
    "by": _by,
    "not today": absent.not_today,
    "available": absent.available,
    "closed": absent.closed,
}
"""How a command reads what stands behind it."""


# --- everything else ---------------------------------------------------------------------------


def _choice_words(line: str, shown: Prompt, walk: Walk) -> Meant | None:
    """Words of a report or of a numbered choice."""
    if shown.phase is Phase.REPORT:
        return _reports(line, walk)
    if len(line) < 3:
        return None
    found = [choice for choice in shown.choices if names.fits(line, choice.text)]
    return found[0].event if len(found) == 1 else None


def _reports(line: str, walk: Walk) -> Meant:
    """One or several reports, by number, id or words, with commas between."""
    order = _report_order(walk)
    chosen: list[str] = []
    parts = line.replace(" and ", ",").split(",") if not _all_numbers(line) else line.replace(",", " ").split()
    for part in (one.strip() for one in parts if one.strip()):
        found = [order[number(part) - 1]] if part.isdecimal() and 0 < number(part) <= len(order) else []
        found = found or names.symptoms(walk.library, part)
        if len(found) != 1:
            return _which_report(part, found, order, walk)
        chosen += found
    if not chosen:
        return Unclear("No report is named; type a number from the list, or words of the report.")
    return ev.Begin(tuple(dict.fromkeys(chosen)))


def _all_numbers(line: str) -> bool:
    return all(part.isdecimal() for part in line.replace(",", " ").split())


def _report_order(walk: Walk) -> list[str]:
    """The symptoms in the order of their numbers."""
    symptoms = walk.library.symptoms.values()
    return [one.id for system in walk.library.systems for one in symptoms if one.system == system]


def _which_report(part: str, found: list[str], order: list[str], walk: Walk) -> Unclear:
    if not found:
        return Unclear(f"No report fits '{part[:60]}'; type a number from the list, or other words.")
    listed = tuple(f"{order.index(name) + 1} {walk.library.symptoms[name].title}" for name in found)
    return Unclear(f"'{part}' fits more than one report. Type its number, or more words:", listed)


def _not_understood(line: str, shown: Prompt) -> Unclear:
    words = [command.word for command in possible(shown.phase)]
    close = near(line, words, 1)
    untold = " Where nobody can say, type can't tell." if shown.phase is Phase.CHECK else ""
    meant = f"; did you mean '{close[0]}'?" if close else "."
    return Unclear(f"'{line[:60]}' is not understood here{meant}{untold}")
