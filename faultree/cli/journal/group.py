"""The group `journal`, whose commands are imported when they are asked for."""

from __future__ import annotations

import click

from faultree.cli.lazy import LazyGroup

TOOLS = {
    "where": "where",
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


@click.group("journal", cls=LazyGroup, package="faultree.cli.journal", modules=TOOLS)
def command() -> None:
    """Look into the record of squawks and practice, and take it along."""
