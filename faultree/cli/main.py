"""The entry of the command line; asking for the version alone loads nothing else."""

from __future__ import annotations

import os
import sys

from faultree.cli.about import version

ONE_THREAD = ("OPENBLAS_NUM_THREADS", "1")
"""How numpy's products of matrices are told to stay in one thread.

Here they are small and many: more threads take twice the processor time, and on a busy machine wait for each other.
"""


def main() -> None:
    """Run the command line on the arguments of this process, and leave with its exit code."""
    if sys.argv[1:] == ["--version"] and _told(f"faultree {version()}\n"):
        return
    os.environ.setdefault(*ONE_THREAD)  # read when numpy is loaded, which nothing has done yet
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
