"""What the program is called, and its version."""

from __future__ import annotations

import sys


def version() -> str:
    """The version of the package, as its root states it."""
    # The root is always loaded by now; it is looked up because nothing inside may import it.
    return str(vars(sys.modules["faultree"])["__version__"])
