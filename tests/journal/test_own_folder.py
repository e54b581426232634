"""A user's own folder: one rule for the journal and for kept walks."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.journal.own_folder import Kind, expanded, own_folder

HOME = Path("/people/ann")


@pytest.mark.parametrize(
    ("kind", "environ", "platform", "folder"),
    [
        ("data", {}, "linux", "/people/ann/.local/share/faultree"),
        ("state", {}, "linux", "/people/ann/.local/state/faultree"),
        ("data", {"XDG_DATA_HOME": "/d", "XDG_STATE_HOME": "/s"}, "linux", "/d/faultree"),
        ("state", {"XDG_DATA_HOME": "/d", "XDG_STATE_HOME": "/s"}, "linux", "/s/faultree"),
        ("data", {"XDG_DATA_HOME": "relative"}, "linux", "/people/ann/.local/share/faultree"),
        ("data", {"XDG_DATA_HOME": "/d"}, "darwin", "/people/ann/Library/Application Support/faultree"),
        ("state", {"LOCALAPPDATA": "D:/Local"}, "win32", "D:/Local/faultree"),
    ],
)
def test_each_platform_has_its_place(kind: Kind, environ: dict[str, str], platform: str, folder: str) -> None:
    """XDG base directories (specification 0.8, from memory), Apple's and Microsoft's customs (from memory)."""
    found = own_folder(kind, environ, platform, HOME)
    assert found is not None
    assert found.as_posix() == folder


def test_what_takes_an_unknown_home_is_nowhere(monkeypatch: pytest.MonkeyPatch) -> None:
    assert own_folder("data", {}, "linux", None) is None
    assert own_folder("data", {"XDG_DATA_HOME": "/d"}, "linux", None) == Path("/d/faultree")

    def unknown(path: Path) -> Path:
        raise RuntimeError(f"no home for {path}")

    monkeypatch.setattr(Path, "expanduser", unknown)
    assert expanded("~nobody/x") is None
