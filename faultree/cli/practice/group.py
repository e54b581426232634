"""The group `practice`: a symptom, a code or a file begins an exercise; a word of its own does something else."""

from __future__ import annotations

import click

from faultree.cli.lazy import LazyGroup

TOOLS = {
    "run": "run",
    "set": "setting",
    "mark": "marking",
    "key": "key",
    "class": "marking",
    "progress": "progress",
    "show": "progress",
}
"""The commands below `practice`, and the module that each stands in."""


@click.group("practice", cls=LazyGroup, package="faultree.cli.practice", modules=TOOLS, default="run")
def command() -> None:
    """Practise: find a hidden fault on an aircraft that answers, and get a mark.

    'faultree practice SYMPTOM' begins an exercise ('faultree practice run --help' lists its options);
    without a symptom one is chosen by what you practised so far.
    """
