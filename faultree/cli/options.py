"""What several commands share: where the library is, the answers given so far, and plain data out."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

import click

from faultree.cli import complete
from faultree.cli.complete import UNKNOWN
from faultree.cli.place import library_folder

if TYPE_CHECKING:
    from faultree.library.model import Check, Entry, Library
    from faultree.strategy.case import Case
    from faultree.terminal.progress import Waiting
    from faultree.terminal.pump import Screen

Decorator = Callable[[Callable[..., Any]], Callable[..., Any]]

library_option: Decorator = click.option(
    "--library",
    "folder",
    metavar="DIR",
    shell_complete=complete.folder,
    help="Folder of tree files. Default: trees in this folder, else the demonstration library.",
)
json_option: Decorator = click.option("--json", "as_json", is_flag=True, help="Plain data (JSON) instead of text.")
answer_option: Decorator = click.option(
    "--answer",
    "answers",
    multiple=True,
    metavar="CHECK=ANSWER",
    shell_complete=complete.answers,
    help="An answer found, by ids or words of them; CHECK=? where it could not be told. Can be repeated.",
)


case_argument: Decorator = click.argument("case", type=int, shell_complete=complete.cases)


def load_library(given: str | None) -> Library:
    """The library for a command; raises LibraryError with every problem."""
    from faultree.library.load import load

    return load(library_folder(given))


def symptom_ids(library: Library, typed: Iterable[str]) -> list[str]:
    """The symptoms meant by ids, short ids, or words that fit only one; raises UnknownName.

    Words need no quotes: where not all of them are ids, and together they fit one symptom, it is meant.
    """
    from faultree.base.errors import UnknownName
    from faultree.walk import names

    given = list(typed)
    try:
        return [library.symptom_id(one) for one in given]
    except UnknownName:
        together = names.symptoms(library, " ".join(given)) if len(given) > 1 else []
    if len(together) > 1:
        raise UnknownName("symptom", " ".join(given), together, ambiguous=True)
    if together:
        return together
    return [_meant("symptom", library.symptom_id, one, names.symptoms(library, one)) for one in given]


def open_case(library: Library, symptoms: Iterable[str], answers: Iterable[str] = ()) -> Case:
    """The case of some symptoms and `CHECK=ANSWER` texts; raises UnknownName, Contradiction and usage errors.

    A check and an answer are named by id, or by words that fit only one.
    """
    from faultree.strategy.case import Case
    from faultree.walk import names

    case = Case.open(library, symptom_ids(library, symptoms))
    for text in answers:
        typed, sign, given = (part.strip() for part in text.partition("="))
        if not sign or not typed or not given:
            raise click.BadParameter(f"'{text}' is not CHECK=ANSWER", param_hint="--answer")
        check = library.checks[entry_id("check", library.check_id, library.checks, typed)]
        if given == UNKNOWN:
            case = case.cannot_tell(check.id)
            continue
        texts = {one.id: one.text for one in check.answers}
        kind = f"answer of check '{check.id}'"
        case = case.answer(check.id, _meant(kind, partial(_answer_id, check), given, names.matches(given, texts)))
    return case


def entry_id(kind: str, by_id: Callable[[str], str], entries: Mapping[str, Entry], typed: str) -> str:
    """The check, cause or other entry meant by an id, or by words that fit only one title; raises UnknownName."""
    from faultree.walk import names

    return _meant(kind, by_id, typed, names.matches(typed, {name: one.title for name, one in entries.items()}))


def _answer_id(check: Check, name: str) -> str:
    return check.answer(name).id


def _meant(kind: str, by_id: Callable[[str], str], typed: str, fitting: Sequence[str]) -> str:
    """What an id means, else the only thing that words fit; raises UnknownName."""
    from faultree.base.errors import UnknownName

    try:
        return by_id(typed)
    except UnknownName as error:
        if len(fitting) > 1:
            raise UnknownName(kind, typed, fitting, ambiguous=True) from error
        if not fitting:
            raise
        return fitting[0]


def print_json(data: Mapping[str, object]) -> None:
    """Write plain data to standard output; signs that the stream cannot show are written as escapes."""
    wide = (getattr(sys.stdout, "encoding", None) or "ascii").casefold().replace("-", "") == "utf8"
    click.echo(json.dumps(data, indent=2, ensure_ascii=not wide))


def waiting(words: str) -> Waiting:
    """Around work that may take long: on standard error, where that is a terminal, it says so after a second."""
    import os

    from faultree.terminal.progress import Waiting

    return Waiting(words, sys.stderr, os.environ)


def screen() -> Screen:
    """The screen on standard output."""
    import os

    from faultree.terminal.pump import screen_for

    return screen_for(sys.stdout, os.environ)
