"""A file is written whole or not at all, and never in place of one that must stay."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from faultree.library.store import create, replace


def test_a_new_file_replaces_none(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    create(path, "é\n")
    assert path.read_bytes() == "é\n".encode()
    with pytest.raises(FileExistsError):
        create(path, "other")
    assert path.read_bytes() == "é\n".encode()
    dangling = tmp_path / "b.yaml"
    dangling.symlink_to(tmp_path / "elsewhere.yaml")
    with pytest.raises(FileExistsError):
        create(dangling, "other")


def test_a_file_is_replaced_as_a_whole(tmp_path: Path) -> None:
    """Line ends are written as they are given; permissions and links stay."""
    path = tmp_path / "a.yaml"
    path.write_text("old", encoding="utf-8")
    path.chmod(0o640)
    link = tmp_path / "link.yaml"
    link.symlink_to(path)
    replace(link, "new\r\n")
    assert path.read_bytes() == b"new\r\n"
    assert link.is_symlink()
    assert path.stat().st_mode & 0o777 == 0o640
    assert sorted(one.name for one in tmp_path.iterdir()) == ["a.yaml", "link.yaml"]
    replace(tmp_path / "fresh.yaml", "text")
    assert (tmp_path / "fresh.yaml").read_text(encoding="utf-8") == "text"


def test_a_failure_half_way_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.yaml"
    path.write_text("old", encoding="utf-8")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        replace(path, "new")
    assert path.read_text(encoding="utf-8") == "old"
    assert [one.name for one in tmp_path.iterdir()] == ["a.yaml"]
