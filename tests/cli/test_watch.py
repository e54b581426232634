"""Watching shows once, again after every change, and ends politely."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from faultree.cli.watch import PAUSE, stamp, watch

NOON = datetime(2031, 5, 6, 12, 0, 7, tzinfo=UTC)


class _Sleeper:
    """A clock's patience: does the next thing instead of waiting, and interrupts when nothing is left."""

    def __init__(self, *events: Callable[[], object] | None) -> None:
        self.events: Iterator[Callable[[], object] | None] = iter(events)

    def __call__(self, seconds: float) -> None:
        assert seconds == PAUSE
        try:
            event = next(self.events)
        except StopIteration:
            raise KeyboardInterrupt from None
        if event is not None:
            event()


def _run(folder: Path, *events: Callable[[], object] | None) -> list[str]:
    """The contents of a.yaml at each showing, while something happens between the looks."""
    shown: list[str] = []
    path = folder / "a.yaml"
    watch(lambda: shown.append(_text(path)), lambda: stamp(folder), _Sleeper(*events), lambda: NOON)
    return shown


def _text(path: Path) -> str:
    return path.read_text(encoding="utf-8") if path.exists() else "gone"


def test_it_shows_once_and_again_after_every_change(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A change is shown when the file has come to rest; without one there is nothing to show."""
    path = tmp_path / "a.yaml"
    path.write_text("one", encoding="utf-8")
    shown = _run(
        tmp_path,
        None,
        None,
        lambda: path.write_text("half", encoding="utf-8"),
        lambda: path.write_text("whole", encoding="utf-8"),
        None,
        None,
        path.unlink,
        None,
        lambda: (tmp_path / "b.yaml").write_text("new", encoding="utf-8"),
        None,
        lambda: (tmp_path / "notes.txt").write_text("no tree file", encoding="utf-8"),
        None,
    )
    assert shown == ["one", "whole", "gone", "gone"]
    said = capsys.readouterr().out
    assert said.count(f"{NOON.astimezone():%H:%M:%S} The files have changed.\n") == 3
    assert said.endswith("\nNo longer watching.\n")


def test_a_change_that_keeps_the_size_is_seen(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_text("one", encoding="utf-8")

    def change() -> None:
        path.write_text("two", encoding="utf-8")
        os.utime(path, ns=(0, path.stat().st_mtime_ns + 1))

    assert _run(tmp_path, change, None) == ["one", "two"]


def test_what_stands_beside_a_file_counts(tmp_path: Path) -> None:
    """Of one file, those beside it are seen too; a folder that is gone is seen as empty."""
    (tmp_path / "a.yaml").write_text("one", encoding="utf-8")
    (tmp_path / "lost.yaml").symlink_to(tmp_path / "nowhere")
    before = stamp(tmp_path / "a.yaml")
    assert [Path(name).name for name, _, _ in before] == ["a.yaml"]
    (tmp_path / "b.yaml").write_text("two", encoding="utf-8")
    assert len(stamp(tmp_path / "a.yaml")) == 2
    assert stamp(tmp_path / "gone" / "a.yaml") == ()


@pytest.mark.skipif(os.name == "nt", reason="Ctrl-C cannot be sent to one process there")
def test_lint_watches_until_ctrl_c(tmp_path: Path) -> None:
    """The real command, with a real change and a real interruption; exit code 0."""
    path = tmp_path / "a.yaml"
    path.write_text("faultree: 1\ntitle: T\nitmes:\n", encoding="utf-8")
    running = subprocess.Popen(
        [sys.executable, "-u", "-m", "faultree", "lint", "--watch", str(tmp_path)],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    with running:
        assert running.stdout is not None
        lines = iter(running.stdout.readline, "")
        assert "did you mean 'items'?" in next(lines)
        assert next(lines).endswith(": 1 problem.\n")
        assert next(lines) == "Watching for changes; Ctrl-C ends it.\n"
        path.write_text("faultree: 1\ntitle: T\n", encoding="utf-8")
        assert next(lines) == "\n"
        assert next(lines).endswith("The files have changed.\n")
        assert "no problems" in next(lines)
        running.send_signal(signal.SIGINT)
        assert list(lines) == ["\n", "No longer watching.\n"]
    assert running.returncode == 0


def test_watching_is_for_people(tmp_path: Path) -> None:
    """Data without end is no data."""
    command = [sys.executable, "-m", "faultree", "lint", "--watch", "--json", str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert "leave --json away" in done.stderr
