"""What a command writes goes to standard output or to a new file; nothing is replaced unasked."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from faultree.base.errors import FaultreeError
from faultree.cli.out import free, put, save, say
from tests.cli.desks import desk, run
from tests.journal.cases import debriefed, opened


def test_standard_output_is_utf8_whatever_the_terminal(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert not put("é\n", None, force=False)
    assert not put("ü\n", "-", force=False, mark=True)
    assert capfdbinary.readouterr().out == "é\nü\n".encode()


def test_a_table_with_other_than_plain_signs_begins_with_a_mark(tmp_path: Path) -> None:
    for name, text in (("a.csv", "a\r\n"), ("b.csv", "é\r\n")):
        assert put(text, str(tmp_path / name), force=False, mark=True)
    assert (tmp_path / "a.csv").read_bytes() == b"a\r\n"
    assert (tmp_path / "b.csv").read_bytes() == "\ufeffé\r\n".encode()


def test_nothing_is_replaced_unasked(tmp_path: Path) -> None:
    path = tmp_path / "f"
    save(path, "one", force=False)
    with pytest.raises(FaultreeError, match="is there already, and is left as it is; name another file or add --force"):
        save(path, "two", force=False)
    assert path.read_text(encoding="utf-8") == "one"
    save(path, "two", force=True)
    assert path.read_text(encoding="utf-8") == "two"
    with pytest.raises(FaultreeError, match="is no ordinary file"):
        save(tmp_path, "three", force=True)


def test_what_could_not_be_written_is_refused_before_the_work(tmp_path: Path) -> None:
    """With the remedy; standard output is always free."""
    path = tmp_path / "f"
    for target in (None, "-", path):
        free(target, force=False)
    path.touch()
    with pytest.raises(FaultreeError, match="is left as it is; name another file or add --force"):
        free(path, force=False)
    free(path, force=True)
    with pytest.raises(FaultreeError, match=r"there is no folder .*no; make it, or name another"):
        free(tmp_path / "no" / "f", force=True)
    with pytest.raises(FaultreeError, match="is no ordinary file"):
        free(tmp_path, force=True)


def test_what_cannot_be_written_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FaultreeError, match="f cannot be written: No space left on device"):
        save(tmp_path / "f", "x", force=False)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "command",
    [
        ("draw", "dark", "-o", "x.svg"), ("draw", "dark", "-o", "x.html"), ("journal", "export", "-o", "x"),
        ("export", "dark", "--to", "json", "-o", "x"), ("debrief", "sheet", "1", "-o", "x.md"),
        ("journal", "backup", "x"), ("journal", "trends", "--no-charts", "-o", "x.html"),
        ("practice", "set", "dark", "-o", "x"),
        ("practice", "key", "e.json", "-o", "x.txt"), ("practice", "mark", "r.json", "--curve", "x.svg"),
        ("practice", "run", "dark", "--seed", "1", "-o", "x"),
    ],
)  # fmt: skip
def test_one_rule_for_every_command(command: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that is there stays without --force, and the remedy is the same; with it the file is replaced whole."""
    store = opened(desk(tmp_path, monkeypatch))
    debriefed(store)
    store.close()
    run("practice", "set", "dark", "--fault", "fuse-blown", "-o", "e.json")
    run("practice", "run", "--exercise", "e.json", "-o", "r.json", lines="hand over fuse\n")
    target = Path(next(one for one in command if one.startswith("x")))
    target.write_text("mine", encoding="utf-8")
    refused = " ".join(run(*command, code=1).output.split())
    assert f"{target} is there already, and is left as it is; name another file or add --force" in refused
    assert target.read_text(encoding="utf-8") == "mine"
    run(*command, "--force", lines="hand over fuse\n")
    assert target.read_bytes() != b"mine"
    assert not list(tmp_path.glob(".*"))


def test_notes_are_paragraphs_within_80_columns(capsys: pytest.CaptureFixture[str]) -> None:
    say(["word " * 40, "short"])
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.splitlines()[-1] == "short"
    assert max(map(len, said.err.splitlines())) <= 80
