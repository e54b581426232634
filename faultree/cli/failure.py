"""The one place where an error becomes words on standard error and an exit code."""

from __future__ import annotations

import io
import os
import sys
import traceback
from collections.abc import Callable

import click

from faultree.base.errors import Contradiction, FaultreeError, LibraryError
from faultree.cli.fitted import fitted

DONE, FAULT, MISUSE = 0, 1, 2
"""Exit codes: done; the input or the evidence is at fault; wrong use."""

TRACE = "FAULTREE_TRACE"
"""The environment variable that shows where an error of faultree itself came from."""


def guarded(run: Callable[[], object]) -> int:
    """Run a command line and return its exit code; whatever goes wrong is said in words."""
    try:
        code = run()
        sys.stdout.flush()
    except click.ClickException as error:
        _show(error)
        return error.exit_code if error.exit_code == FAULT else MISUSE
    except BrokenPipeError:
        _hush()
        return DONE
    except (KeyboardInterrupt, click.Abort):
        return _say("Stopped.")
    except SystemExit as leaving:
        return leaving.code if isinstance(leaving.code, int) else DONE
    except Exception as error:  # noqa: BLE001 - no traceback ever reaches a user
        return _say(words(error))
    return code if isinstance(code, int) else DONE


def words(error: Exception) -> str:
    """An error in words: all problems of a library, a contradiction with its answers, or its own message."""
    if isinstance(error, LibraryError):
        return _problems(error)
    if isinstance(error, Contradiction):
        return "\n".join([_sentence(error), *(f"  {check}={answer}" for check, answer in error.answers)])
    if isinstance(error, FaultreeError):
        return _sentence(error)
    if isinstance(error, OSError):
        where = f"{error.filename}: " if error.filename else ""
        return f"Error: {where}{error.strerror or error}"
    trace = traceback.format_exc() if os.environ.get(TRACE) else f"Set {TRACE}=1 to see where it happened.\n"
    return f"Error in faultree itself: {type(error).__name__}: {error}\nPlease report it. {trace}".rstrip()


def _problems(error: LibraryError) -> str:
    count = len(error.problems)
    return "\n".join([*map(str, error.problems), f"{count} problem{'' if count == 1 else 's'} {error.where}."])


def _sentence(error: Exception) -> str:
    text = str(error)
    return f"Error: {text}" + ("" if text.endswith((".", "?", "!")) else ".")


def _show(error: click.ClickException) -> None:
    """What the reader of options says of wrong use, within the window."""
    shown = io.StringIO()
    error.show(shown)
    _say(shown.getvalue().rstrip("\n"))


def _say(text: str) -> int:
    try:
        click.echo(fitted(text, sys.stderr), err=True)
    except BrokenPipeError:
        _hush()
    return FAULT


def _hush() -> None:
    """Let what is still to be written go nowhere: the reader of the pipe has left."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.stdout, sys.stderr):
        try:
            os.dup2(nowhere, stream.fileno())
        except (OSError, ValueError, AttributeError):
            continue
