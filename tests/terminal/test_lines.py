"""Typed and piped lines are read alike; a pipe shows what it answered."""

from __future__ import annotations

import builtins
import io

import pytest

from faultree.terminal.lines import LONGEST, Piped, Typed


def test_piped_lines_are_shown_behind_their_questions() -> None:
    """The record of a piped walk reads as if it had been typed."""
    output = io.StringIO()
    lines = Piped(io.StringIO("yes\r\n  no  \n"), output)
    assert [lines.read("A > "), lines.read("B > "), lines.read("C > ")] == ["yes", "no", None]
    assert output.getvalue() == "A > yes\nB > no\n"


def test_a_last_line_without_its_end_is_read() -> None:
    """Printf without a newline is a line all the same."""
    lines = Piped(io.StringIO("yes"), io.StringIO())
    assert lines.read("") == "yes"
    assert lines.read("") is None


def test_control_signs_and_endless_lines_do_no_harm() -> None:
    """What comes through a pipe is shown, so it is made harmless first."""
    output = io.StringIO()
    lines = Piped(io.StringIO("a\x1b[2Jb\n" + "x" * 3 * LONGEST), output)
    assert lines.read("") == "a [2Jb"
    assert len(lines.read("") or "") <= LONGEST
    assert "\x1b" not in output.getvalue()


def test_the_end_of_typed_input_is_no_error(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Ctrl-D ends the input; the line it was typed on is ended too."""

    def ended(ask: str) -> str:
        raise EOFError(ask)

    monkeypatch.setattr(builtins, "input", ended)
    assert Typed().read("> ") is None
    assert capsys.readouterr().out == "\n"
    monkeypatch.setattr(builtins, "input", lambda ask: f"{ask}yes")
    assert Typed().read("> ") == "> yes"
