"""The group `journal`, whose commands are imported when they are asked for."""

from __future__ import annotations

import importlib

import click

TOOLS = {
    "where": "files",
    "list": "reading",
    "show": "reading",
    "trends": "trends",
    "backup": "files",
    "export": "files",
    "import": "files",
    "forget": "people",
    "demo": "demo",
}
"""The commands below `journal`, and the module that each stands in."""


class Journal(click.Group):
    """A group whose commands are imported by name."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order in which they are needed."""
        del ctx
        return list(TOOLS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a name, from its module."""
        del ctx
        if cmd_name not in TOOLS:
            return None
        found = getattr(importlib.import_module(f"faultree.cli.journal.{TOOLS[cmd_name]}"), f"{cmd_name}_command")
        return found if isinstance(found, click.Command) else None


@click.group("journal", cls=Journal, context_settings={"help_option_names": ["-h", "--help"]})
def command() -> None:
    """Look into the record of squawks and practice, and take it along."""
