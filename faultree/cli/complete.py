"""What a shell offers behind a word that is not finished: symptoms, checks, answers, suspects, cases, files.

Each function has the signature that click asks for, and none of them raises: a shell that completes has
no place for an error.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click
from click.shell_completion import CompletionItem

from faultree.cli.place import home, library_folder

if TYPE_CHECKING:
    from faultree.library.outline import Outline

UNKNOWN = "?"
"""What stands for "cannot tell" behind a check."""

Offered = list[CompletionItem[str]]


def symptoms(context: click.Context, parameter: click.Parameter, typed: str) -> Offered:
    """Reports that are not named yet."""
    del parameter
    given = {*_given(context, "symptoms"), *_given(context, "symptom")}
    return [item for item in _fitting(_outline(context).symptoms, typed) if item.value not in given]


def suspects(context: click.Context, parameter: click.Parameter, typed: str) -> Offered:
    """Causes, items and checks: whatever can be asked about."""
    del parameter
    known = _outline(context)
    return _fitting({**known.causes, **known.items, **known.checks}, typed)


def answers(context: click.Context, parameter: click.Parameter, typed: str) -> Offered:
    """Both halves of CHECK=ANSWER: checks that have no answer yet, then the answers of the one that is meant.

    Where only one check fits what was typed, its answers are offered at once.
    """
    del parameter
    known = _outline(context)
    check, sign, begun = typed.partition("=")
    if sign:
        return _replies(known, check, begun)
    given = {one.partition("=")[0] for one in _given(context, "answers")}
    found = [item for item in _fitting(known.checks, check) if item.value not in given]
    if len(found) == 1:
        return _replies(known, found[0].value, "")
    return [CompletionItem(f"{item.value}=", help=item.help) for item in found]


def units(context: click.Context, parameter: click.Parameter, typed: str) -> Offered:
    """Items, and causes: what a case can have ended with."""
    known = _outline(context)
    return _fitting({"cause": known.causes, "item": known.items}.get(str(parameter.name), {}), typed)


def means(context: click.Context, parameter: click.Parameter, typed: str) -> Offered:
    """Every report, and that none of them is meant."""
    del parameter
    none = CompletionItem("none", help="no symptom of the tree fits")
    return [*_fitting(_outline(context).symptoms, typed), *([none] if none.value.startswith(typed) else [])]


def likelihoods(context: click.Context, parameter: click.Parameter, typed: str) -> Offered:
    """The words for how often something fails."""
    del context, parameter
    from faultree.library.model import BANDS

    return [CompletionItem(word, help=f"{value:g}") for word, value in BANDS.items() if word.startswith(typed)]


# --- of the journal ----------------------------------------------------------------------------


def cases(context: click.Context, parameter: click.Parameter, typed: str) -> Offered:
    """The numbers of the cases, newest first, each with its flight, state and words."""
    del parameter
    from faultree.journal import glance

    journal = _journal(context)
    found = glance.cases(journal) if journal is not None else ()
    return [CompletionItem(str(one.number), help=one.shown) for one in found if str(one.number).startswith(typed)]


def squawks(context: click.Context, parameter: click.Parameter, typed: str) -> Offered:
    """The numbers of the squawks of the case that was named, each with its words."""
    del parameter
    from faultree.journal import glance

    journal, case = _journal(context), context.params.get("case")
    found = glance.squawks(journal, case) if journal is not None and isinstance(case, int) else {}
    return [CompletionItem(str(one), help=words) for one, words in found.items() if str(one).startswith(typed)]


def aircraft(context: click.Context, parameter: click.Parameter, typed: str) -> Offered:
    """The aircraft that have a case."""
    del parameter
    from faultree.journal import glance

    journal = _journal(context)
    found = glance.aircraft(journal) if journal is not None else ()
    return [CompletionItem(one) for one in found if one.casefold().startswith(typed.casefold())]


def _journal(context: click.Context) -> Path | None:
    """The file of the journal that the command line means so far; None for a server, or where there is none."""
    from faultree.base.errors import JournalError
    from faultree.journal.place import where

    try:
        return where(context.params.get("journal"), os.environ, sys.platform, home()).file
    except JournalError:
        return None


# --- files -------------------------------------------------------------------------------------


def file(context: click.Context, parameter: click.Parameter, typed: str) -> Offered:
    """Any file, as the shell itself completes it."""
    del context, parameter
    return [CompletionItem(typed, type="file")]


def folder(context: click.Context, parameter: click.Parameter, typed: str) -> Offered:
    """Any folder, as the shell itself completes it."""
    del context, parameter
    return [CompletionItem(typed, type="dir")]


def _outline(context: click.Context) -> Outline:
    """The names in the library that the command line means so far."""
    from faultree.library.outline import outline

    root = context.find_root()
    return outline(library_folder(context.params.get("folder") or root.params.get("folder")))


def _given(context: click.Context, name: str) -> tuple[str, ...]:
    """What the command line holds already for a parameter."""
    value = context.params.get(name) or ()
    return (value,) if isinstance(value, str) else tuple(value)


def _fitting(table: Mapping[str, str], typed: str) -> Offered:
    """The names that begin as typed: short ids that stand for one thing, else full ids."""
    shorts = _shorts(table)
    found = [CompletionItem(short, help=table[full]) for short, full in shorts.items() if short.startswith(typed)]
    if found and typed:
        return found
    lone = set(shorts.values()) if not typed else set()
    rest = [full for full in table if full.startswith(typed) and full not in lone]
    return [*found, *(CompletionItem(full, help=table[full]) for full in rest)]


def _shorts(table: Iterable[str]) -> dict[str, str]:
    """The full id behind each short one that is the only one of its kind."""
    short = [(full.partition("/")[2], full) for full in table]
    names = [name for name, _ in short]
    return {name: full for name, full in short if names.count(name) == 1}


def _replies(known: Outline, check: str, begun: str) -> Offered:
    full = check if check in known.checks else _shorts(known.checks).get(check, "")
    texts = {**known.answers.get(full, {}), UNKNOWN: "cannot tell"} if full else {}
    return [CompletionItem(f"{check}={name}", help=text) for name, text in texts.items() if name.startswith(begun)]
