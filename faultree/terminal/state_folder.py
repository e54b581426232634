"""Where a person's walks are kept as they go on: a folder of that person's own, by the custom of the platform."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

VARIABLE = "FAULTREE_STATE"
"""The environment variable that names another folder."""


def state_folder(environ: Mapping[str, str], platform: str, home: Path) -> Path:
    """The folder for the environment of a process on a platform (`sys.platform`), below a home folder.

    Windows: %LOCALAPPDATA%; macOS: ~/Library/Application Support; elsewhere $XDG_STATE_HOME or ~/.local/state, as
    the XDG base directory specification has it (a relative path there is to be ignored).

    >>> state_folder({"XDG_STATE_HOME": "/var/state"}, "linux", Path("/people/ann")).as_posix()
    '/var/state/faultree'
    >>> state_folder({"XDG_STATE_HOME": "here"}, "linux", Path("/h")).as_posix()
    '/h/.local/state/faultree'
    """
    if environ.get(VARIABLE):
        return Path(environ[VARIABLE]).expanduser()
    if platform == "win32":
        given, otherwise = environ.get("LOCALAPPDATA", ""), home / "AppData" / "Local"
    elif platform == "darwin":
        given, otherwise = "", home / "Library" / "Application Support"
    else:
        given, otherwise = environ.get("XDG_STATE_HOME", ""), home / ".local" / "state"
    return (Path(given) if given.startswith("/") or (platform == "win32" and given) else otherwise) / "faultree"
