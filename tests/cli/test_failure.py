"""An error becomes words and an exit code in one place, whatever it is."""

from __future__ import annotations

import click
import pytest

from faultree.base.errors import CaseError, Contradiction, FaultreeError, LibraryError, UnknownName
from faultree.base.problem import Place, Problem
from faultree.cli.failure import DONE, FAULT, MISUSE, guarded, words


def _raising(error: BaseException) -> int:
    def run() -> None:
        raise error

    return guarded(run)


@pytest.mark.parametrize(
    ("error", "code"),
    [
        (FaultreeError("x"), FAULT),
        (CaseError("x"), FAULT),
        (UnknownName("check", "a", ["b"]), FAULT),
        (Contradiction("x", []), FAULT),
        (LibraryError([]), FAULT),
        (OSError(2, "No such file", "a.yaml"), FAULT),
        (RecursionError("x"), FAULT),
        (KeyboardInterrupt(), FAULT),
        (click.UsageError("x"), MISUSE),
        (click.BadParameter("x"), MISUSE),
        (click.FileError("a"), FAULT),
        (SystemExit(2), 2),
        (SystemExit(None), DONE),
    ],
)
def test_every_error_has_its_exit_code(error: BaseException, code: int) -> None:
    """0 done, 1 the input or the evidence is at fault, 2 wrong use; nothing is raised."""
    assert _raising(error) == code


@pytest.mark.parametrize(("given", "code"), [(None, DONE), (0, DONE), (1, FAULT), ("text", DONE)])
def test_what_a_command_returns_is_the_code(given: object, code: int) -> None:
    """A command that returns nothing is done."""
    assert guarded(lambda: given) == code


@pytest.mark.parametrize(
    ("error", "text"),
    [
        (CaseError("the note is empty"), "Error: the note is empty."),
        (UnknownName("check", "volt", ["a/voltage"]), "Error: unknown check 'volt'; did you mean 'a/voltage'?"),
        (
            Contradiction("these disagree", [("a/b", "yes"), ("a/c", "no")]),
            "Error: these disagree.\n  a/b=yes\n  a/c=no",
        ),
        (OSError(13, "Permission denied", "trees"), "Error: trees: Permission denied"),
        (
            LibraryError([Problem(Place("a.yaml", 1, 2), "odd", "mend it")]),
            "a.yaml:1:2: odd; mend it\n1 problem in the tree files.",
        ),
    ],
)
def test_errors_in_words(error: Exception, text: str) -> None:
    """The value, the place and the remedy; contradictions name the answers as they can be typed."""
    assert words(error) == text


def test_words_go_to_standard_error(capsys: pytest.CaptureFixture[str]) -> None:
    """Standard output belongs to results."""
    _raising(CaseError("odd"))
    shown = capsys.readouterr()
    assert (shown.out, shown.err) == ("", "Error: odd.\n")
