"""`faultree export`: a symptom or the whole library in a form that other programs read."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from faultree.cli import complete
from faultree.cli.options import library_option, load_library, symptom_ids
from faultree.cli.out import force_option, free, put, say

if TYPE_CHECKING:
    from faultree.library.exchange.written import Exported
    from faultree.library.model import Library

FORMS = ("open-psa", "matrix", "graphml", "json")
"""What can be written."""


HELP = """Write the fault tree or the checks of SYMPTOM, or the graph, for other programs.

\b
open-psa  the derived fault tree, Open-PSA Model Exchange Format 2.0d (XML)
matrix    the dependency matrix, causes by checks (CSV, for a spreadsheet)
graphml   the nodes below SYMPTOM, or of the whole library, as a graph
json      the same graph as node-link data

What a form has no place for is said on standard error.
"""


@click.command("export", help=HELP, short_help="Write a symptom or the library for other programs.")
@click.argument("symptom", required=False, shell_complete=complete.symptoms)
@click.option("--to", "form", type=click.Choice(FORMS), required=True, help="The form, see above.")
@click.option("-o", "--output", "target", metavar="FILE", shell_complete=complete.file,
              help="Where to. Default, and with -: standard output.")  # fmt: skip
@force_option
@library_option
def command(symptom: str | None, form: str, target: str | None, force: bool, folder: str | None) -> None:
    """Write a symptom or the library in one of the forms."""
    free(target, force=force)
    library = load_library(folder)
    if symptom is None and form in ("open-psa", "matrix"):
        raise click.UsageError(f"--to {form} writes one symptom: name it behind 'export'.")
    (name,) = symptom_ids(library, [symptom]) if symptom else [None]
    done = _exported(library, name, form)
    wrote = put(done.text, target, force=force, mark=form == "matrix")
    if wrote:
        click.echo(f"Wrote {target}.")
    say(done.notes)


def _exported(library: Library, symptom: str | None, form: str) -> Exported:
    if symptom is None or form in ("graphml", "json"):
        from faultree.logic.export import graph_text

        return graph_text(library, symptom, form)
    if form == "matrix":
        from faultree.strategy.matrix_export import matrix_text

        return matrix_text(library, symptom)
    from faultree.logic.derive import fault_tree
    from faultree.logic.open_psa import open_psa_text

    return open_psa_text(library, fault_tree(library, symptom))
