"""The entry of the command line; asking for the version alone loads nothing else."""

from __future__ import annotations

import sys


def version() -> str:
    """The version of the package, as its root states it."""
    # The root is always loaded by now; it is looked up because nothing inside may import it.
    return str(vars(sys.modules["faultree"])["__version__"])


def main() -> None:
    """Run the command line on the arguments of this process, and leave with its exit code."""
    if sys.argv[1:] == ["--version"]:
        sys.stdout.write(f"faultree {version()}\n")
        return
    from faultree.cli.commands import commands

    commands.main(prog_name="faultree")
