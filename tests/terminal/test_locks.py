"""A lock is held by one, and only as long as it lives."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from faultree.terminal import locks
from faultree.terminal.locks import claim


def test_a_lock_is_given_to_one_at_a_time(tmp_path: Path) -> None:
    """And to the next one once it was let go of; its file does not stay behind."""
    path = tmp_path / "a.lock"
    first = claim(path)
    assert first is not None
    assert claim(path) is None
    first.release()
    assert not path.exists()
    second = claim(path)
    assert second is not None
    second.release()


def test_a_lock_whose_holder_has_died_can_be_taken(tmp_path: Path) -> None:
    """Its file stays behind, and nobody holds it."""
    path = tmp_path / "a.lock"
    path.touch()
    found = claim(path)
    assert found is not None
    found.release()


def test_where_there_are_no_locks_it_is_given_without_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Some network file systems know none; a walk goes on all the same."""

    def none(handle: int) -> None:
        raise OSError(errno.ENOLCK, f"No locks available {handle}")

    monkeypatch.setattr(locks, "_take", none)
    found = claim(tmp_path / "a.lock")
    assert found is not None
    found.release()


def test_a_lock_removed_while_it_is_taken_is_taken_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its last holder took the file away in between: what is held must be what stands there."""
    path = tmp_path / "a.lock"
    real = locks._take
    seen: list[int] = []

    def slow(handle: int) -> None:
        real(handle)
        if not seen:
            path.unlink()
        seen.append(handle)

    monkeypatch.setattr(locks, "_take", slow)
    found = claim(path)
    assert found is not None
    assert len(seen) == 2
    assert path.exists()
    found.release()
