"""What several commands share: where the library is, the answers given so far, and plain data out."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from faultree.cli import complete

if TYPE_CHECKING:
    from faultree.library.model import Library
    from faultree.strategy.case import Case
    from faultree.terminal.progress import Waiting
    from faultree.terminal.pump import Screen

HERE = "trees"
"""The folder that is used where there is one and no other was named."""

UNKNOWN = "?"
"""What stands for "cannot tell" behind a check."""

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
    help="An answer found; CHECK=? for one that could not be told. Can be repeated.",
)


def library_folder(given: str | None) -> Path:
    """The folder of the library: the one given (to the command or before it), the one here, or the bundled one."""
    context = click.get_current_context(silent=True)
    named = given or (context.find_root().obj if context else None)
    if named:
        return Path(str(named))
    here = Path(HERE)
    return here if any(here.glob("*.yaml")) or any(here.glob("*.yml")) else bundled()


def bundled() -> Path:
    """The demonstration library: within the installed package, or beside it in a checkout."""
    package = Path(__file__).parents[1]
    inside = package / "trees"
    return inside if inside.is_dir() else package.parent / "trees"


def load_library(given: str | None) -> Library:
    """The library for a command; raises LibraryError with every problem."""
    from faultree.library.load import load

    return load(library_folder(given))


def symptom_ids(library: Library, typed: Iterable[str]) -> list[str]:
    """The symptoms meant by ids, short ids, or words that fit only one; raises UnknownName."""
    from faultree.base.errors import UnknownName
    from faultree.walk import names

    found = []
    for one in typed:
        try:
            found.append(library.symptom_id(one))
        except UnknownName as error:
            fitting = names.symptoms(library, one)
            if len(fitting) > 1:
                raise UnknownName("symptom", one, fitting, ambiguous=True) from error
            if not fitting:
                raise
            found += fitting
    return found


def open_case(library: Library, symptoms: Iterable[str], answers: Iterable[str] = ()) -> Case:
    """The case of some symptoms and `CHECK=ANSWER` texts; raises UnknownName, Contradiction and usage errors."""
    from faultree.strategy.case import Case

    case = Case.open(library, symptom_ids(library, symptoms))
    for text in answers:
        check, sign, answer = text.partition("=")
        if not sign or not check.strip() or not answer.strip():
            raise click.BadParameter(f"'{text}' is not CHECK=ANSWER", param_hint="--answer")
        given = answer.strip()
        case = case.cannot_tell(check.strip()) if given == UNKNOWN else case.answer(check.strip(), given)
    return case


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
