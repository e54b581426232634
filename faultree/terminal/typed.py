"""From a typed line to an event of the walk, to something the screen does itself, or to a question back."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import get_args

from faultree.base.errors import FaultreeError, UnknownName
from faultree.base.words import capital, listing, near
from faultree.library.model import Who
from faultree.terminal import absent, reported
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


ANYONE = ("anyone", "anybody", "everyone", "everybody", "all")
"""Words for whoever may be there."""

RECORDED = (ev.CannotDuplicate, ev.SeenAgain, ev.Closed)
"""What goes into the record at once, without a question."""

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
    alike = begun if len(begun) > 1 else _recorded(first, begun)
    if len(alike) > 1:
        return Unclear(f"'{first}' can mean {_quoted(alike)}; type it in full.")
    return _run(next(iter(begun.values())), rest.strip(), shown, walk)


def _recorded(first: str, begun: Mapping[str, Command]) -> Mapping[str, Command]:
    """For a word that would be recorded at once, every command of the walk that begins so: it is never guessed."""
    if not any(one.event in RECORDED for one in begun.values()):
        return begun
    return {one.word: one for one in COMMANDS if one.word.startswith(first.casefold())}


def _run(command: Command, rest: str, shown: Prompt, walk: Walk) -> Meant | None:
    if rest and not command.takes:
        return None
    try:
        if command.event is ev.Save:
            return Write(rest, over=command.word == "overwrite")
        return _TAKING[command.word](rest, shown, walk) if command.takes else _PLAIN[command.word]
    except UnknownName as error:
        return _which(error, walk, _NAMED.get(command.word))
    except FaultreeError as error:
        return Unclear(str(error))


def _which(error: UnknownName, walk: Walk, event: Callable[[str], ev.Event] | None) -> Unclear:
    """An unknown or ambiguous name in the words of the screen, where titles count and not ids."""
    library = walk.library
    entries = {**library.checks, **library.causes, **library.items, **library.symptoms}
    known = [one for one in error.candidates if one in entries]
    named = tuple(f"{entries[one].title} ({one})" for one in known)
    events = tuple(map(event, known)) if event else ()
    if error.ambiguous:
        return Unclear(f"'{error.name}' fits more than one:", named, events)
    return Unclear(f"Nothing here is called '{error.name}'{'; perhaps:' if named else '.'}", named, events)


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
    "also": reported.also,
    "by": _by,
    "not today": absent.not_today,
    "available": absent.available,
    "closed": absent.closed,
}
"""How a command reads what stands behind it."""

_NAMED: dict[str, Callable[[str], ev.Event]] = {"check": ev.TakeUp, "replace": ev.Replace, "why": ev.AskWhy}
"""What a command does with a name (full id), so that one of several can be chosen."""


# --- everything else ---------------------------------------------------------------------------


def _choice_words(line: str, shown: Prompt, walk: Walk) -> Meant | None:
    """Words of a report or of a numbered choice."""
    if shown.phase is Phase.REPORT:
        return reported.reports(line, walk)
    if len(line) < 3:
        return None
    found = [choice for choice in shown.choices if names.fits(line, choice.text)]
    return found[0].event if len(found) == 1 else None


def _not_understood(line: str, shown: Prompt) -> Unclear:
    elsewhere = _elsewhere(line, shown)
    if elsewhere:
        return Unclear(elsewhere)
    words = [command.word for command in possible(shown.phase)]
    close = near(line, words, 1)
    untold = " Where nobody can say, type can't tell." if shown.phase is Phase.CHECK else ""
    meant = f"; did you mean '{close[0]}'?" if close else "."
    return Unclear(f"'{line[:60]}' is not understood here{meant}{untold}")


NOT_YET = "The check has not been made yet: type ok first, or not today to leave it out."
"""What cannot be told before the cautions were read."""


def _elsewhere(line: str, shown: Prompt) -> str:
    """What to say to a command that has its place on other screens; empty where the line is none."""
    said = _spoken(line)
    spelled = ((one, _spoken(spelling)) for one in COMMANDS for spelling in (one.word, *one.others))
    found = next((one for one, words in spelled if words == said[: len(words)] and (one.takes or words == said)), None)
    if found is None or found in possible(shown.phase):
        return ""
    if found.event is ev.CannotTell and shown.phase is Phase.CAUTIONS:
        return NOT_YET
    return f"'{found.word}' has nothing to do here; help lists what can be typed."
