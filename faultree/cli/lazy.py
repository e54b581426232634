"""A group whose commands are imported when they are asked for, and which may do one of them where it is given none."""

from __future__ import annotations

import importlib
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import click
from click.shell_completion import CompletionItem

from faultree.base.words import near


def no_command(name: str, names: Iterable[str], instead: str = "") -> str:
    """What is said where a word is no command: what else is meant, the nearest one, or all there are.

    >>> no_command("beginn", ["begin", "end"])
    "no such command 'beginn'; did you mean 'begin'?"
    """
    known = list(names)
    close = near(name, known, 1)
    meant = f"did you mean '{close[0]}'?" if close else f"the commands are {', '.join(known)}"
    return f"no such command '{name}'; {instead or meant}"


class LazyGroup(click.Group):
    """A group of the commands in `modules`: for each name the module of `package` that holds `NAME_command`.

    Where the first word is no command of its own, all words belong to the command `default`, if there is one; where
    that takes no words (`words` False), only options do. The names are listed in the order of `modules`, which is that
    in which they are needed. `instead` says what else may be meant by a word that is no command, or nothing.
    """

    def __init__(
        self,
        *given: Any,
        package: str,
        modules: Mapping[str, str],
        default: str | None = None,
        words: bool = True,
        instead: Callable[[str], str] = lambda word: "",
        **more: Any,
    ) -> None:
        super().__init__(*given, context_settings={"help_option_names": ["-h", "--help"]}, **more)
        self.package = package
        self.modules = modules
        self.default = default
        self.words = words
        self.instead = instead

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names in the order in which they are needed."""
        del ctx
        return list(self.modules)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a name, from its module; None where there is none."""
        del ctx
        if cmd_name not in self.modules:
            return None
        found = getattr(importlib.import_module(f"{self.package}.{self.modules[cmd_name]}"), f"{cmd_name}_command")
        return found if isinstance(found, click.Command) else None

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Put the default command before words that belong to none; a shell that completes is offered both."""
        alone = not args and ctx.resilient_parsing
        known = (*self.modules, *ctx.help_option_names)
        word = bool(args) and not args[0].startswith("-") and not self.words
        if self.default and not alone and not word and not (args and args[0] in known):
            args = [self.default, *args]
        return super().parse_args(ctx, args)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command of the first word; where there is none, what may be meant is said."""
        if args[0] not in self.modules and not ctx.resilient_parsing and not args[0].startswith("-"):
            ctx.fail(f"{no_command(args[0], self.modules, self.instead(args[0]))}.".replace("?.", "?"))
        return super().resolve_command(ctx, args)

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem[str]]:
        """The commands, and what the default command would offer in their place."""
        found = super().shell_complete(ctx, incomplete)
        default = self.get_command(ctx, self.default) if self.default else None
        if default is None:
            return found
        inner = default.make_context(self.default, [], parent=ctx, resilient_parsing=True)
        first = next((one for one in default.params if isinstance(one, click.Argument)), None)
        more = default.shell_complete(inner, incomplete)
        if first is not None and not incomplete.startswith("-"):
            more = first.shell_complete(inner, incomplete)
        known = {one.value for one in found}
        return [*found, *(one for one in more if one.value not in known)]
