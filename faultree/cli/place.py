"""Where things are: the library (the folder that was named, the one here, or the bundled one) and the home folder."""

from __future__ import annotations

from pathlib import Path

import click

HERE = "trees"
"""The folder that is used where there is one and no other was named."""


def library_folder(given: str | None) -> Path:
    """The folder of the library: the one given (to the command or before it), the one here, or the bundled one."""
    context = click.get_current_context(silent=True)
    named = given or (context.find_root().obj if context else None)
    if named:
        return Path(str(named))
    here = Path(HERE)
    return here if any(here.glob("*.yaml")) or any(here.glob("*.yml")) else bundled()


def home() -> Path | None:
    """The home folder of whoever runs this; None where nobody knows one, as for some accounts of a service."""
    try:
        found = Path.home()
    except RuntimeError:
        return None
    return found if found.is_absolute() else None


def bundled() -> Path:
    """The demonstration library: within the installed package, or beside it in a checkout."""
    package = Path(__file__).parents[1]
    inside = package / "trees"
    return inside if inside.is_dir() else package.parent / "trees"
