"""The commands as a group that loads each one when it is asked for, and greets when none is."""

from __future__ import annotations

import importlib
import keyword
import os
import sys
from collections.abc import Sequence
from typing import Any, NoReturn

import click

from faultree.cli.about import COMPLETE, version
from faultree.cli.failure import guarded
from faultree.cli.options import library_option

NAMES = (
    "walk", "rank", "why", "analyse", "chart", "draw", "practice", "debrief", "journal", "new", "lint", "tidy",
    "schema", "export", "import", "completion",
)  # fmt: skip
"""The commands, in the order of the help; each stands in a module of its name (a word of Python with a `_` behind)."""


class Commands(click.Group):
    """A group whose commands are imported by name."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names in the order in which a newcomer needs them."""
        del ctx
        return list(NAMES)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a name, from its module."""
        del ctx
        if cmd_name not in NAMES:
            return None
        module = f"{cmd_name}_" if keyword.iskeyword(cmd_name) else cmd_name
        found = importlib.import_module(f"faultree.cli.{module}").command
        return found if isinstance(found, click.Command) else None

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command of the first word; where there is none, what may be meant is said."""
        if args[0] not in NAMES and not ctx.resilient_parsing and not args[0].startswith("-"):
            from faultree.cli.lazy import no_command

            ctx.fail(f"{no_command(args[0], NAMES)}.".replace("?.", "?"))
        return super().resolve_command(ctx, args)

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        **extra: Any,
    ) -> NoReturn:
        """Run, and leave with the exit code; no traceback is shown.

        click's own way would leave with 1 where the reader of a pipe has left.
        """
        del standalone_mode, complete_var
        _prepare()
        if os.environ.get(COMPLETE):
            from faultree.cli.completion import offer

            sys.exit(offer(self, extra))
        name, given = prog_name or "faultree", list(sys.argv[1:] if args is None else args)
        sys.exit(guarded(lambda: self._run(name, given)))

    def _run(self, name: str, arguments: list[str]) -> int:
        try:
            with self.make_context(name, arguments) as context:
                self.invoke(context)
        except click.exceptions.Exit as leaving:
            return leaving.exit_code
        return 0


def _prepare() -> None:
    """Let a stream show a sign of its own in place of one that it cannot encode, rather than fail.

    A stream that was closed before the start leads nowhere; Python has None in its place.
    """
    for name in ("stdin", "stdout", "stderr"):
        if getattr(sys, name) is None:
            nowhere = os.open(os.devnull, os.O_RDWR)
            setattr(sys, name, os.fdopen(nowhere, "r" if name == "stdin" else "w", encoding="utf-8"))
        reconfigure = getattr(getattr(sys, name), "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")


@click.group(
    cls=Commands,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="The approved maintenance manual and a licensed engineer decide.",
)
@library_option
@click.version_option(version(), message="faultree %(version)s")
@click.pass_context
def commands(context: click.Context, folder: str | None) -> None:
    """Find what is wrong with a system, check by check; alone: what can be looked up, and how to begin."""
    context.obj = folder
    if context.invoked_subcommand is None:
        from faultree.cli.greet import greet

        greet(folder)
