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


def test_a_new_file_is_only_its_users_where_that_is_asked_for(tmp_path: Path) -> None:
    """As a kept walk is; bytes are written as they are."""
    replace(tmp_path / "a", b"\r\n", mode=0o600)
    assert (tmp_path / "a").stat().st_mode & 0o777 == 0o600
    assert (tmp_path / "a").read_bytes() == b"\r\n"


def test_what_is_no_ordinary_file_stays(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for name in ("", "pipe"):
        with pytest.raises(OSError, match="no ordinary file"):
            replace(tmp_path / name, "text")


def test_a_name_as_long_as_names_can_be_is_written(tmp_path: Path) -> None:
    """What stands beside it for a moment has a short one."""
    path = tmp_path / ("x" * 250 + ".yaml")
    replace(path, "text")
    create(path.with_suffix(".json"), "text")
    assert path.read_text(encoding="utf-8") == "text"


def test_without_hard_links_a_new_file_is_written_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Some sticks and shares know none."""

    def refused(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refused)
    create(tmp_path / "a.yaml", "text")
    with pytest.raises(FileExistsError):
        create(tmp_path / "a.yaml", "other")
    assert {one.name: one.read_text(encoding="utf-8") for one in tmp_path.iterdir()} == {"a.yaml": "text"}


def test_a_failure_half_way_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A new file is not left half written either; the message is about the file that was meant."""
    path = tmp_path / "a.yaml"
    path.write_text("old", encoding="utf-8")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        replace(path, "new")
    with pytest.raises(OSError, match=r"No space left.*b\.yaml"):
        create(tmp_path / "b.yaml", "new")
    assert path.read_text(encoding="utf-8") == "old"
    assert [one.name for one in tmp_path.iterdir()] == ["a.yaml"]
