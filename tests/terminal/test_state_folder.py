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
    found = state_folder(environ, platform, HOME)
    assert found is not None
    assert PurePosixPath(found.as_posix()) == PurePosixPath(folder)


def test_without_a_home_only_the_environment_can_name_a_place(monkeypatch: pytest.MonkeyPatch) -> None:
    """An account of a service may have none; a home that a `~` asks for may be nobody's."""
    assert state_folder({"XDG_STATE_HOME": "/var/ann"}, "linux", None) == Path("/var/ann/faultree")
    assert state_folder({"XDG_STATE_HOME": "here"}, "linux", None) is None

    def unknown(path: Path) -> Path:
        raise RuntimeError(f"no home for {path}")

    monkeypatch.setattr(Path, "expanduser", unknown)
    assert state_folder({"FAULTREE_STATE": "~nobody/x"}, "linux", HOME) is None
