"""What the commands of practice share: files of exercises and runs, and the time allowed."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from faultree.base.errors import CaseError
from faultree.base.words import capital
from faultree.cli import complete
from faultree.cli.out import free, save

if TYPE_CHECKING:
    from faultree.practice.exercise import Exercise
    from faultree.practice.view import Result

learner_option = click.option("--learner", default="", metavar="NAME", help="Whose run it is; initials are enough.")

curve_option = click.option(
    "--curve",
    metavar="FILE",
    shell_complete=complete.file,
    help="A .svg to write: what was still unknown over the minutes, and the best strategy's.",
)


def read_data(path: Path) -> Mapping[str, Any]:
    """The plain data of an exercise or run file; CaseError where it cannot be read."""
    try:
        found = json.loads(path.read_text(encoding="utf-8-sig"))
    except OSError as error:
        raise CaseError(f"{path} cannot be read: {error.strerror or error}") from error
    except (ValueError, RecursionError) as error:
        raise CaseError(f"{path} is no exercise or run of faultree: {error}") from error
    if not isinstance(found, dict):
        raise CaseError(f"{path} is no exercise or run of faultree: it holds no mapping")
    return found


def new_file(name: str | None, *endings: str, force: bool) -> None:
    """Refuse, before any work, a file that could not be written behind it, or whose ending is no format of it."""
    if name is not None and endings and Path(name).suffix.lower() not in endings:
        raise click.UsageError(f"'{name}' ends in no format of this; end it in {' or '.join(endings)}")
    free(name, force=force)


def write_data(path: Path, data: Mapping[str, object], *, force: bool) -> None:
    """Write plain data whole or not at all; FaultreeError where the file is there already, or cannot be written."""
    save(path, json.dumps(data, indent=2, ensure_ascii=False) + "\n", force=force)


def write_curve(path: Path, exercise: Exercise, found: Result, *, force: bool) -> None:
    """Write the picture of a run as SVG: what was still unknown over the minutes, beside the best strategy."""
    from faultree.diagrams.curve import curve_svg

    words = exercise.library.symptoms[exercise.scenario.symptom].title
    heading = f"{capital(words)}: mark {found.mark.mark:.0f} of 100"
    save(path, curve_svg(found.curve, found.reference_curve, heading), force=force)
