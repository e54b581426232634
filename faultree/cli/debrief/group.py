"""The group `debrief`: alone it begins a case; a word of its own goes on with one, ends one, or prints its sheet."""

from __future__ import annotations

import importlib

import click

TOOLS = {
    "begin": "begin",
    "continue": "begin",
    "add": "wording",
    "correct": "wording",
    "end": "ending",
    "sheet": "sheet",
}
"""The commands below `debrief`, and the module that each stands in."""


class Debrief(click.Group):
    """A group that begins a case where it is given no word of its own."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order in which they are needed."""
        del ctx
        return list(TOOLS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a name, from its module."""
        del ctx
        if cmd_name not in TOOLS:
            return None
        found = getattr(importlib.import_module(f"faultree.cli.debrief.{TOOLS[cmd_name]}"), f"{cmd_name}_command")
        return found if isinstance(found, click.Command) else None

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Put `begin` before options that describe a flight."""
        if not args or (args[0] not in TOOLS and args[0] not in ("-h", "--help")):
            args = ["begin", *args]
        return super().parse_args(ctx, args)


@click.group("debrief", cls=Debrief, context_settings={"help_option_names": ["-h", "--help"]})
def command() -> None:
    """Debrief a crew: their words become a case that the line can go on with.

    'faultree debrief' begins one ('faultree debrief begin --help' lists its options).
    """
