"""What the program is called, its version, and how a shell asks it to complete a line."""

from __future__ import annotations

import sys

COMPLETE = "_FAULTREE_COMPLETE"
"""The environment variable by which a shell asks how a line can go on."""


def version() -> str:
    """The version of the package, as its root states it."""
    # The root is always loaded by now; it is looked up because nothing inside may import it.
    return str(vars(sys.modules["faultree"])["__version__"])
