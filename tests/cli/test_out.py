"""What a command writes goes to standard output or to a new file; nothing is replaced unasked."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.base.errors import FaultreeError
from faultree.cli.out import put, save, say


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


def test_notes_are_paragraphs_within_80_columns(capsys: pytest.CaptureFixture[str]) -> None:
    say(["word " * 40, "short"])
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.splitlines()[-1] == "short"
    assert max(map(len, said.err.splitlines())) <= 80
