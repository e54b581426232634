"""A person's own folder, by the custom of each platform and never in the library."""

from __future__ import annotations

from pathlib import Path, PurePosixPath

import pytest

from faultree.terminal.state_folder import state_folder

HOME = Path("/people/ann")


@pytest.mark.parametrize(
    ("environ", "platform", "folder"),
    [
        ({}, "linux", "/people/ann/.local/state/faultree"),
        ({"XDG_STATE_HOME": "/var/ann"}, "linux", "/var/ann/faultree"),
        ({"XDG_STATE_HOME": "relative"}, "linux", "/people/ann/.local/state/faultree"),
        ({"XDG_STATE_HOME": ""}, "freebsd14", "/people/ann/.local/state/faultree"),
        ({"XDG_STATE_HOME": "/var/ann"}, "darwin", "/people/ann/Library/Application Support/faultree"),
        ({"LOCALAPPDATA": "D:/Local"}, "win32", "D:/Local/faultree"),
        ({}, "win32", "/people/ann/AppData/Local/faultree"),
        ({"FAULTREE_STATE": "/mnt/stick", "XDG_STATE_HOME": "/var/ann"}, "linux", "/mnt/stick"),
    ],
)
def test_each_platform_has_its_place(environ: dict[str, str], platform: str, folder: str) -> None:
    """XDG base directories (specification 0.8, from memory), Apple's and Microsoft's customs (from memory)."""
    assert PurePosixPath(state_folder(environ, platform, HOME).as_posix()) == PurePosixPath(folder)
