"""What a person means by the words of a report: the reports that a walk begins with, or one that joins it."""

from __future__ import annotations

from faultree.base.words import near
from faultree.terminal.meant import Meant, Unclear, number
from faultree.walk import events as ev
from faultree.walk import names
from faultree.walk.prompt import Prompt
from faultree.walk.state import Walk

OFFERED = 8
"""So many reports are named that some words fit."""


def also(rest: str, shown: Prompt, walk: Walk) -> Meant:
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
    shown_ones = found[:OFFERED]
    events = tuple(ev.Also((name,)) for name in shown_ones)
    return Unclear(f"'{rest[:60]}' fits more than one report:", tuple(_called(walk, one) for one in shown_ones), events)


def _called(walk: Walk, name: str) -> str:
    return f"{walk.library.symptoms[name].title} ({name})"


def reports(line: str, walk: Walk) -> Meant:
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
