"""How `walk` keeps what is done as it goes on, and takes up what was kept: its options and what they lead to."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from faultree.base.errors import CaseError
from faultree.cli.place import home

if TYPE_CHECKING:
    from faultree.library.model import Library
    from faultree.terminal.kept import Keeper, Kept
    from faultree.terminal.lines import Lines
    from faultree.terminal.pump import Screen


class Wishes(NamedTuple):
    """What was asked for about keeping; None where nothing was said."""

    resume: bool
    fresh: bool
    keep: bool | None
    folder: str | None


def keeping_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """The options about keeping a walk."""
    for option in reversed(
        (
            click.option("--resume", is_flag=True, help="Take up the walk that was kept last, without asking."),
            click.option("--fresh", is_flag=True, help="Begin anew, without asking about walks that were kept."),
            click.option(
                "--keep/--no-keep", default=None, help="Keep each step as it happens. Default: at a terminal, yes."
            ),
            click.option(
                "--state", metavar="DIR", envvar="FAULTREE_STATE", help="Folder for that, in place of your own."
            ),
        )
    ):
        command = option(command)
    return command


def keeper_for(library: Library, wishes: Wishes, *, by_hand: bool) -> Keeper | None:
    """What keeps the walk; None where it is not to be kept. Raises click.UsageError for a folder that cannot be."""
    if wishes.resume and wishes.fresh:
        raise click.UsageError("--resume takes up a kept walk and --fresh begins anew; name one of them")
    wanted = wishes.keep if wishes.keep is not None else (by_hand or wishes.resume)
    if not wanted:
        return None
    from faultree.base.clock import system_clock
    from faultree.journal.own_folder import expanded
    from faultree.terminal.kept import Keeper
    from faultree.terminal.state_folder import state_folder

    root = expanded(wishes.folder) if wishes.folder else state_folder(os.environ, sys.platform, home())
    if root is None:
        click.echo(
            "This walk is not kept as it goes on: no home folder is known. Name a folder with --state.", err=True
        )
        return None
    folder, tree = root / "walks", Path(library.folder).resolve()
    if folder.resolve().is_relative_to(tree):
        raise click.UsageError(f"{root} is inside the folder of the tree files; name another one with --state")
    return Keeper(folder, str(tree), system_clock)


def to_take_up(
    keeper: Keeper | None, symptoms: Iterable[str], wishes: Wishes, screen: Screen, lines: Lines
) -> Kept | None:
    """The kept walk to take up, if any: the newest one with --resume, else the one that is chosen when asked.

    Reports that are named leave only kept walks of the same reports. Raises CaseError where --resume finds none, and
    click.exceptions.Exit where the person leaves.
    """
    if keeper is None or wishes.fresh or not (wishes.resume or lines.by_hand):
        return None
    from faultree.terminal.kept import kept_in

    named = frozenset(symptoms)
    found = []
    for one in kept_in(keeper.folder, keeper.library):
        if not named or named == frozenset(one.symptoms):
            found.append(one)
        else:
            one.leave()
    if wishes.resume:
        return _newest(found, keeper)
    return _asked(found, keeper, screen, lines) if found else None


def _newest(found: list[Kept], keeper: Keeper) -> Kept:
    for one in found[1:]:
        one.leave()
    if not found:
        raise CaseError(f"no walk is kept in {keeper.folder} that could be taken up; leave --resume out to begin one")
    return found[0]


def _asked(found: list[Kept], keeper: Keeper, screen: Screen, lines: Lines) -> Kept | None:
    from faultree.terminal.offer import choose

    chosen = choose(found, screen, lines, keeper.clock())
    if chosen == "leave":
        raise click.exceptions.Exit(0)
    return None if chosen == "new" else chosen
