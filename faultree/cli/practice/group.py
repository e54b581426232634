"""The group `practice`: a symptom, a code or a file begins an exercise; a word of its own does something else."""

from __future__ import annotations

import importlib

import click

TOOLS = {
    "run": "run",
    "set": "setting",
    "mark": "marking",
    "key": "key",
    "class": "marking",
    "progress": "progress",
}
"""The commands below `practice`, and the module that each stands in."""

SHOWN = tuple(name for name in TOOLS if name != "run")


class Practice(click.Group):
    """A group whose first word, where it is no command of its own, is the symptom to practise."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order in which they are needed."""
        del ctx
        return list(TOOLS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a name, from its module."""
        del ctx
        if cmd_name not in TOOLS:
            return None
        module = importlib.import_module(f"faultree.cli.practice.{TOOLS[cmd_name]}")
        found = getattr(module, f"{cmd_name}_command")
        return found if isinstance(found, click.Command) else None

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Put `run` before whatever begins an exercise."""
        if not args or (args[0] not in TOOLS and args[0] not in ("-h", "--help")):
            args = ["run", *args]
        return super().parse_args(ctx, args)


@click.group("practice", cls=Practice, context_settings={"help_option_names": ["-h", "--help"]})
def command() -> None:
    """Practise: find a hidden fault on an aircraft that answers, and get a mark.

    'faultree practice SYMPTOM' begins an exercise ('faultree practice run --help' lists its options);
    without a symptom one is chosen by what you practised so far.
    """
