"""The entry of the command line; asking for the version alone loads nothing else."""

from __future__ import annotations

import sys

from faultree.cli.about import version


def main() -> None:
    """Run the command line on the arguments of this process, and leave with its exit code."""
    if sys.argv[1:] == ["--version"]:
        sys.stdout.write(f"faultree {version()}\n")
        return
    from faultree.cli.commands import commands

    commands.main(prog_name="faultree")
