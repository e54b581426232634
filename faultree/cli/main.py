"""The entry of the command line; asking for the version alone loads nothing else."""

from __future__ import annotations

import sys

from faultree.cli.about import version


def main() -> None:
    """Run the command line on the arguments of this process, and leave with its exit code."""
    if sys.argv[1:] == ["--version"] and _told(f"faultree {version()}\n"):
        return
    from faultree.cli.commands import commands

    commands.main(prog_name="faultree")


def _told(words: str) -> bool:
    """Write to standard output; false where that cannot be, which the commands know how to say."""
    try:
        sys.stdout.write(words)
        sys.stdout.flush()
    except (OSError, AttributeError):  # it is full, its reader has left, or there is none
        return False
    return True
