"""From a typed line to an event of an exercise, to something the screen shows by itself, or to a question back."""

from __future__ import annotations

from dataclasses import dataclass

from faultree.base.words import listing
from faultree.practice import events as ev
from faultree.practice import exercise as ex
from faultree.practice.mark import HINTS
from faultree.practice.view import Option, check_options, named_units


@dataclass(frozen=True, slots=True)
class Show:
    """Something to show: "checks" or "parts" (of a system, or fitting words), "more" of the list, "found", ..."""

    what: str
    words: str = ""


@dataclass(frozen=True, slots=True)
class Away:
    """Leave the exercise; it can be taken up again."""


@dataclass(frozen=True, slots=True)
class Unclear:
    """What was typed cannot be done, or can mean several things.

    Where one of several can be chosen by its number, `choices` are they, and `parts` whether they are parts.
    """

    text: str
    options: tuple[str, ...] = ()
    choices: tuple[Option, ...] = ()
    parts: bool = False


Meant = ev.Event | Show | Away | Unclear


@dataclass(frozen=True, slots=True)
class Command:
    """A word that can be typed, what it takes and what it does; `modes` are those in which it can be."""

    word: str
    takes: str
    does: str
    others: tuple[str, ...] = ()
    modes: tuple[ex.Mode, ...] = ex.MODES


_PRICES = listing([f"{one:.0f}" for one in HINTS[1:]], "then")

COMMANDS = (
    Command("checks", "[WORDS]", "list the checks of the reported system, of a system, or that fit words", ("list",)),
    Command("parts", "[WORDS]", "the same for what can be put right", ("items",)),
    Command("more", "", "the rest of a list that is longer than the window"),
    Command("check", "X", "make check X: its number in the list, its id, or words of its title", ("ask",)),
    Command("replace", "X", "put X right and repeat the operational check", ("put right", "repair")),
    Command("look", "", "repeat the operational check as things are", ("retest",)),
    Command("ok", "", "the cautions are read and followed", ("read", "yes", "okay")),
    Command("skip", "", "do the step without reading its cautions"),
    Command("back", "", "leave the step whose cautions are on view, or a hand-over"),
    Command("about", "[X]", "how the reported system works, or system X; where part X is and what it acts on"),
    Command("found", "", "what was found so far, and the minutes spent", ("answers",)),
    Command("suspects", "[all]", "who is still suspected", (), ("coached",)),
    Command("hint", "", f"help with the next step, counted as {_PRICES} min in all", (), ("coached",)),
    Command("undo", "", "take the last answer back; its minutes are spent all the same", (), ("coached", "blind")),
    Command("possible", "X, Y", "name what is still possible; the end says what you left out", (), ("blind", "exam")),
    Command("hand over", "[X]", "end it: hand over to a licensed engineer, naming X as the suspect", ("handover",)),
    Command("report", "", "what the crew reported"),
    Command("help", "", "show this", ("?", "h")),
    Command("quit", "", "leave; the exercise can be taken up again", ("q", "exit")),
)
"""Every command word; the screen's help and the reader both use this list."""

NONE = ("none", "nothing")
"""What is typed in place of parts where none is meant."""

_PLAIN: dict[str, Meant] = {
    "ok": ev.Read(),
    "skip": ev.Skip(),
    "back": ev.Leave(),
    "look": ev.Look(),
    "hint": ev.Hint(),
    "undo": ev.TakeBack(),
    "found": Show("found"),
    "suspects": Show("suspects"),
    "report": Show("report"),
    "more": Show("more"),
    "help": Show("help"),
    "quit": Away(),
}


def possible(mode: ex.Mode) -> tuple[Command, ...]:
    """The commands of a mode."""
    return tuple(one for one in COMMANDS if mode in one.modes)


def understand(typed: str, exercise: ex.Exercise, listed: tuple[Option, ...], parts: bool) -> Meant:
    """What a typed line means; `listed` is the list shown last, `parts` whether it was one of parts."""
    line = " ".join(typed.split())
    if not line:
        return Unclear("Nothing was typed; help lists what can be.")
    if line.isdecimal():
        return _number(line, listed, parts=parts)
    for command in possible(exercise.mode):
        for word in (command.word, *command.others):
            if line.casefold() == word or line.casefold().startswith(f"{word} "):
                return _command(command, line, line[len(word) :].strip(), exercise, listed, parts=parts)
    return _check(line, exercise)


def _command(
    command: Command, line: str, rest: str, exercise: ex.Exercise, listed: tuple[Option, ...], *, parts: bool
) -> Meant:
    if command.word == "suspects" and rest.casefold() in ("all", "everyone"):
        return Show("suspects", "all")
    if command.word in _PLAIN:
        return _check(line, exercise) if rest else _PLAIN[command.word]  # a title may begin with such a word
    if command.word in ("checks", "parts", "about"):
        return Show(command.word, rest)
    if command.word == "hand over":
        return suspect(rest, exercise)
    if command.word == "possible":
        return still_possible(rest, exercise)
    if not rest:
        return Unclear(f"Which one? Type {command.word} and a number of the list, an id, or words of its title.")
    if rest.isdecimal() and listed and parts != (command.word == "replace"):
        other = "checks" if command.word == "check" else "parts"
        return Unclear(f"The list shown last is one of {'parts' if parts else 'checks'}; type {other} for the other.")
    if rest.isdecimal():
        return _number(rest, listed, parts=parts)
    return _check(rest, exercise) if command.word == "check" else _part(rest, exercise)


def _number(typed: str, listed: tuple[Option, ...], *, parts: bool) -> Meant:
    place = int(typed[:9])
    if not 1 <= place <= len(listed):
        say = f"The list has the numbers 1 to {len(listed)}." if listed else "Type checks or parts for a list first."
        return Unclear(say)
    target = listed[place - 1].target
    return ev.PutRight(target) if parts else ev.Ask(target)


def _check(words: str, exercise: ex.Exercise) -> Meant:
    found = check_options(exercise, words)
    if len(found) == 1:
        return ev.Ask(found[0].target)
    if found:
        return Unclear(f"'{words}' can be one of these checks; its number makes it:", _numbered(found), found)
    if words in exercise.library.checks:
        return ev.Ask(words)
    for one in COMMANDS:
        if any(f"{words.casefold()} ".startswith(f"{word} ") for word in (one.word, *one.others)):
            return Unclear(f"'{one.word}' is not possible in the mode {exercise.mode}; help lists what is.")
    return Unclear(f"No check left fits '{words}'; checks lists them, help says what else can be typed.")


def _part(words: str, exercise: ex.Exercise) -> Meant:
    found = named_units(exercise, words)
    if len(found) == 1:
        return ev.PutRight(found[0].target)
    if found:
        say = f"'{words}' can be one of these parts; its number puts it right:"
        return Unclear(say, _numbered(found), found, parts=True)
    return Unclear(f"Nothing that could be put right fits '{words}'; parts lists it all.")


def at_question(line: str, exercise: ex.Exercise) -> str | Show | Away | ev.Leave:
    """What a line typed at a question means where it is no answer: something to show, or to leave; else the line."""
    word = line.casefold()
    if word in ("back", "undo", "cancel"):
        return ev.Leave()
    for command in possible(exercise.mode):
        if word in (command.word, *command.others):
            meant = Show(command.word) if command.word in ("checks", "parts") else _PLAIN.get(command.word)
            if isinstance(meant, Show | Away):
                return meant
    return line


def suspect(words: str, exercise: ex.Exercise) -> ev.HandOver | Unclear:
    """A hand-over that names the part which some words mean, or a question back."""
    if not words or words.casefold() in NONE:
        return ev.HandOver()
    found = named_units(exercise, words)
    if len(found) == 1:
        return ev.HandOver(found[0].target)
    if found:
        return Unclear(f"'{words}' can be one of these parts:", _named(found))
    return Unclear(f"Nothing fits '{words}'; name a part, or none.")


def still_possible(words: str, exercise: ex.Exercise) -> ev.Possible | Unclear:
    """The units that a list of words means, separated by commas, or a question back."""
    if words.casefold() in NONE:
        return ev.Possible("")
    units = []
    for one in filter(None, map(str.strip, words.split(","))):
        found = named_units(exercise, one)
        if len(found) != 1:
            say = f"'{one}' can be one of these parts:" if found else f"Nothing fits '{one}'."
            return Unclear(f"{say} Name them all again.", _named(found))
        units.append(found[0].target)
    if not units:
        return Unclear("Name parts, separated by commas, or none.")
    return ev.Possible(",".join(units))


def _numbered(options: tuple[Option, ...]) -> tuple[str, ...]:
    shown = tuple(f"{number:>2} {one.title}" for number, one in enumerate(options[:8], 1))
    return (*shown, f"and {len(options) - 8} more") if len(options) > 8 else shown


def _named(options: tuple[Option, ...]) -> tuple[str, ...]:
    shown = tuple(f"{one.title} ({one.target})" for one in options[:8])
    return (*shown, f"and {len(options) - 8} more") if len(options) > 8 else shown
