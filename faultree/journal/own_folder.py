"""The folder in which a platform's programs keep what belongs to one user."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Literal, NamedTuple

Kind = Literal["data", "state"]
"""Data is to be kept for good, state only as long as it lasts; only the XDG custom tells them apart."""


class _Xdg(NamedTuple):
    variable: str
    below: tuple[str, str]


XDG: Mapping[Kind, _Xdg] = {
    "data": _Xdg("XDG_DATA_HOME", (".local", "share")),
    "state": _Xdg("XDG_STATE_HOME", (".local", "state")),
}
"""For each kind the variable that names its folder, and where that is below the home folder otherwise."""

NAME = "faultree"


def own_folder(kind: Kind, environ: Mapping[str, str], platform: str, home: Path | None) -> Path | None:
    """The folder for the environment of a process on a platform (`sys.platform`); None where it takes an unknown home.

    Windows: %LOCALAPPDATA%; macOS: ~/Library/Application Support; elsewhere as the XDG base directory specification
    has it, where a relative path in the environment is invalid and to be ignored.

    >>> own_folder("state", {"XDG_STATE_HOME": "/var/state"}, "linux", None).as_posix()
    '/var/state/faultree'
    >>> own_folder("data", {"XDG_DATA_HOME": "here"}, "linux", Path("/h")).as_posix()
    '/h/.local/share/faultree'
    """
    if platform == "win32":
        given, below = environ.get("LOCALAPPDATA", ""), ("AppData", "Local")
    elif platform == "darwin":
        given, below = "", ("Library", "Application Support")
    else:
        named = XDG[kind]
        given, below = environ.get(named.variable, ""), named.below
    if given and (platform == "win32" or given.startswith("/")):
        return Path(given) / NAME
    return None if home is None else home.joinpath(*below, NAME)


def expanded(name: str) -> Path | None:
    """A path as typed, its `~` expanded; None where nobody knows the home folder that is meant."""
    try:
        return Path(name).expanduser()
    except RuntimeError:
        return None
