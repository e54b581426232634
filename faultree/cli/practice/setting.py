"""`faultree practice set`: an instructor chooses fault, words and checks, and seals the exercise in a file."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import click

from faultree.base.errors import CaseError
from faultree.cli import complete
from faultree.cli.options import entry_id, library_option, load_library, symptom_ids
from faultree.cli.out import force_option, say
from faultree.cli.practice.common import new_file, write_data

WRONG = (
    "These faults do not show the report: it is set as a wrong report, and the trainee is told that some reports are "
    "wrong."
)


@click.command("set")
@click.argument("symptom", shell_complete=complete.symptoms)
@click.option("--fault", "faults", multiple=True, metavar="CAUSE",
              help="A cause that is hidden, by its id or words of it; several with several.")  # fmt: skip
@click.option("--nothing-wrong", is_flag=True, help="Nothing is at fault: the report is wrong.")
@click.option("--words", default="", metavar="TEXT", help="What the crew says; default: a phrase of the tree.")
@click.option("--without", multiple=True, metavar="CHECK",
              help="A check that cannot be made today, by its id or words of it; can be repeated.")  # fmt: skip
@click.option(
    "--minutes",
    "limit",
    type=click.FloatRange(min=0.0, min_open=True),
    metavar="MINUTES",
    help="How long the work may take.",
)
@click.option(
    "--level", type=click.IntRange(1, 4), default=1, show_default=True, help="Drawn at this level without --fault."
)
@click.option("--seed", type=int, default=1, show_default=True, metavar="NUMBER", help="Decides which checks err.")
@click.option("-o", "--output", required=True, metavar="FILE", shell_complete=complete.file,
              help="The exercise file to write.")  # fmt: skip
@force_option
@library_option
def set_command(symptom: str, folder: str | None, output: str, **given: Any) -> None:
    """Set an exercise: choose what is hidden, what the crew says, and what the hangar has today.

    The file does not show its answer to somebody who opens it; it is no secret from somebody who wants to know.
    """  # fmt: skip
    from faultree.practice.reference import reference
    from faultree.practice.scenario import FALSE_REPORT, scenario
    from faultree.practice.sealed import seal
    from faultree.practice.world import World

    library = load_library(folder)
    new_file(output, force=given["force"])
    made = scenario(library, symptom_ids(library, [symptom])[0], given["level"], given["seed"])
    closed = frozenset(entry_id("check", library.check_id, library.checks, name) for name in given["without"])
    made = replace(made, words=given["words"] or made.words, closed=closed, limit=given["limit"], code="")
    if given["nothing_wrong"] and given["faults"]:
        raise click.UsageError("--nothing-wrong hides no fault; leave --fault out")
    if given["faults"] or given["nothing_wrong"]:
        hidden = frozenset(entry_id("cause", library.cause_id, library.causes, name) for name in given["faults"])
        items = [library.causes[one].item for one in hidden if library.causes[one].item]
        if len(set(items)) < len(items):
            raise CaseError("two of these causes belong to one item, and exclude each other; choose one of them")
        made = replace(made, hidden=hidden, there=True)
        there = World(library, made).shows()
        made = replace(made, there=there, doubt=made.doubt if there else FALSE_REPORT)
        if hidden and not there:
            say([WRONG])
    if made.limit is not None and reference(library, replace(made, limit=None)).minutes > made.limit:
        say(["The best strategy takes longer than that here; the exercise can be handed over in time all the same."])
    write_data(Path(output), seal(made), force=given["force"])
    click.echo(f"Written to {output}. A trainee does it with: faultree practice --exercise {output}")
