"""What the commands of practice share: files of exercises and runs, and the time allowed."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from faultree.base.errors import CaseError

if TYPE_CHECKING:
    from faultree.practice.exercise import Exercise
    from faultree.practice.view import Result

learner_option = click.option("--learner", default="", metavar="NAME", help="Whose run it is; initials are enough.")

curve_option = click.option(
    "--curve", metavar="FILE", help="A .svg to write: what was still unknown over the minutes, and the best strategy's."
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


def new_file(name: str | None, *endings: str) -> None:
    """Refuse a file that could not be written later: CaseError where it is there, or its folder is not."""
    if name is None:
        return
    path = Path(name)
    if endings and path.suffix.lower() not in endings:
        raise click.UsageError(f"'{name}' ends in no format of this; end it in {' or '.join(endings)}")
    if path.exists():
        raise CaseError(f"{path} exists already; name another file")
    if not path.parent.is_dir():
        raise CaseError(f"{path} cannot be written: there is no folder {path.parent}")


def write_data(path: Path, data: Mapping[str, object]) -> None:
    """Write plain data whole or not at all; CaseError where the file is there already, or cannot be written."""
    new_file(str(path))
    write_text(path, json.dumps(data, indent=2, ensure_ascii=False) + "\n")


def write_text(path: Path, content: str) -> None:
    """Write a text whole or not at all; CaseError where that cannot be done."""
    from faultree.terminal import files

    try:
        files.write(path, content)
    except OSError as error:
        raise CaseError(f"{path} cannot be written: {error.strerror or error}") from error


def write_curve(path: Path, exercise: Exercise, found: Result) -> None:
    """Write the picture of a run as SVG: what was still unknown over the minutes, beside the best strategy."""
    from faultree.diagrams.curve import curve_svg

    words = exercise.library.symptoms[exercise.scenario.symptom].title
    heading = f"{words[:1].upper()}{words[1:]}: mark {found.mark.mark:.0f} of 100"
    write_text(path, curve_svg(found.curve, found.reference_curve, heading))
