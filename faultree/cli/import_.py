"""`faultree import`: a fault tree or a dependency matrix of another program as a tree file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from faultree.cli import complete
from faultree.cli.out import STANDARD, force_option, save, say, typed

if TYPE_CHECKING:
    from faultree.library.exchange.written import Imported

FORMS = ("open-psa", "matrix")
"""What can be read."""

TABLES = (".csv", ".tsv", ".txt")
"""The endings of files that hold a matrix."""


@click.command("import")
@click.argument("file", shell_complete=complete.file)
@click.option("-o", "--output", "target", metavar="DIR", shell_complete=complete.folder,
              help="Folder of the tree file. Default: standard output.")  # fmt: skip
@click.option("--name", help="The id of the new system. Default: made from the name of FILE.")
@click.option("--from", "form", type=click.Choice(FORMS), help="The form of FILE. Default: told by its name.")
@click.option("--hours", type=float, metavar="H", help="The mission time, where the model leaves it open.")
@click.option(
    "--likelihood",
    metavar="L",
    shell_complete=complete.likelihoods,
    help="A probability, or frequent to improbable, for all events without a figure.",
)
@force_option
def command(
    file: str,
    target: str | None,
    name: str | None,
    form: str | None,
    hours: float | None,
    likelihood: str | None,
    force: bool,
) -> None:
    """Make a tree file of a fault tree (Open-PSA MEF 2.0d, XML) or of a dependency matrix (CSV).

    Each top gate becomes a symptom of the same name. Nothing is written if anything is wrong, and what has
    no place in a tree file is refused by its name or kept under keys of its own.
    """
    from faultree.base.errors import ImportRefused

    path = Path(file)
    system = _system(name or path.stem)
    place = None if target in (None, STANDARD) else Path(str(target)) / f"{system}.yaml"
    if place is not None:
        _free(place, force)
    done = _imported(path, system, form or _form(path), _hours(hours), _likelihood(likelihood))
    if done.text is None:
        raise ImportRefused(done.problems)
    if place is None:
        click.echo(done.text.encode("utf-8"), nl=False)
    else:
        place.parent.mkdir(parents=True, exist_ok=True)
        save(place, done.text, force=force)
        click.echo(f"Wrote {place}. See what it lacks with: faultree lint {typed(place)}")
    say(done.notes)


def _system(name: str) -> str:
    """The id of the new system; FaultreeError where none can be made of its name."""
    from faultree.base.errors import FaultreeError
    from faultree.library.starter import id_from

    try:
        return id_from(name)
    except ValueError as error:
        raise FaultreeError(f"{error}, or give one with --name") from error


def _free(place: Path, force: bool) -> None:
    """Refuse to go on where a system of that id is there, before anything is read."""
    from faultree.base.errors import FaultreeError
    from faultree.library.documents import ENDINGS

    for other in (place.with_suffix(one) for one in ENDINGS):
        if (other.exists() or other.is_symlink()) and not (force and other == place):
            hint = "choose another id with --name" + ("" if other != place else ", or add --force")
            raise FaultreeError(f"{other} is there already, and is left as it is; {hint}")


def _form(path: Path) -> str:
    return "matrix" if path.suffix.lower() in TABLES else "open-psa"


def _hours(hours: float | None) -> float | None:
    if hours is not None and not 0 < hours <= 1e9:
        raise click.BadParameter(f"{hours:g} is not above 0 and at most 1e9.", param_hint="--hours")
    return hours


def _likelihood(text: str | None) -> str | float | None:
    from faultree.library.model import BANDS
    from faultree.library.values import number

    if text is None or text in BANDS:
        return text
    value = number(text)
    if value is None or not 0 < value < 1:
        words = ", ".join(BANDS)
        raise click.BadParameter(
            f"'{text}' is no probability above 0 and below 1, and none of {words}.", param_hint="--likelihood"
        )
    return value


def _imported(path: Path, system: str, form: str, hours: float | None, likelihood: str | float | None) -> Imported:
    from faultree.library.exchange.elements import MAX_BYTES
    from faultree.library.exchange.matrix import read_matrix
    from faultree.library.exchange.open_psa import Options, read_open_psa

    with path.open("rb") as source:
        content = source.read(MAX_BYTES + 1)
    if form == "matrix":
        return read_matrix(content, str(path), system, likelihood)
    return read_open_psa(content, str(path), system, Options(hours, likelihood))
