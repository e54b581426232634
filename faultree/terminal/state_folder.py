"""Where a person's walks are kept as they go on: a folder of that person's own, by the custom of the platform."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from faultree.journal.own_folder import expanded, own_folder

VARIABLE = "FAULTREE_STATE"
"""The environment variable that names another folder."""


def state_folder(environ: Mapping[str, str], platform: str, home: Path | None) -> Path | None:
    """The folder for the environment of a process; None where it would take a home folder that nobody knows.

    >>> state_folder({"XDG_STATE_HOME": "/var/state"}, "linux", Path("/people/ann")).as_posix()
    '/var/state/faultree'
    """
    if environ.get(VARIABLE):
        return expanded(environ[VARIABLE])
    return own_folder("state", environ, platform, home)
