"""How a stream can be written to decides what a screen uses: colour, signs, width."""

from __future__ import annotations

import io

import pytest

from faultree.terminal.look import (
    FIRM_SPACE,
    NARROWEST,
    WIDEST,
    Look,
    console,
    look_of,
    showable,
    text,
    title,
)


class Stream(io.StringIO):
    """A stream with an encoding, which may be a terminal."""

    def __init__(self, terminal: bool, encoding: str = "utf-8") -> None:
        super().__init__()
        self._terminal = terminal
        self._encoding = encoding

    @property
    def encoding(self) -> str:  # type: ignore[override]  # a text stream may say what it encodes to
        return self._encoding

    def isatty(self) -> bool:
        return self._terminal


@pytest.mark.parametrize(
    ("stream", "environ", "plain"),
    [
        (Stream(True), {}, False),
        (Stream(True), {"TERM": "xterm-256color"}, False),
        (Stream(True), {"TERM": "dumb"}, True),
        (Stream(True), {"NO_COLOR": "1"}, True),
        (Stream(True), {"NO_COLOR": ""}, False),
        (Stream(True, "ascii"), {}, True),
        (Stream(True, "cp1252"), {}, True),
        (Stream(True, "no-such-code"), {}, True),
        (Stream(False), {}, True),
    ],
)
def test_when_a_screen_is_plain(stream: Stream, environ: dict[str, str], plain: bool) -> None:
    """Piped, dumb, without colour, or unable to show the signs: plain."""
    assert look_of(stream, environ).plain is plain


@pytest.mark.parametrize(
    ("columns", "width"),
    [("120", 120), ("80", 80), ("", 80), ("wide", 80), ("²", 80), ("5", NARROWEST), ("400", WIDEST)],
)
def test_the_width_of_a_pipe_is_asked_from_the_environment(columns: str, width: int) -> None:
    """A pipe has no window; COLUMNS says how wide it is read, within reason."""
    stream = Stream(False)
    assert console(stream, look_of(stream, {"COLUMNS": columns})).width == width


def test_a_plain_console_writes_no_escape_codes() -> None:
    """Neither colour nor bold."""
    stream = Stream(True)
    console(stream, Look(plain=True, width=80)).print(text("careful", "bold red"))
    assert stream.getvalue() == "careful\n"


def test_author_text_is_never_markup() -> None:
    """What looks like an instruction to the screen is shown as it stands."""
    stream = Stream(False)
    console(stream, Look()).print(text("[bold]a[/b] :smile: [link=x]"))
    assert stream.getvalue().rstrip() == "[bold]a[/b] :smile: [link=x]"


@pytest.mark.parametrize(
    ("given", "shown"),
    [
        ("a\x1b[31mb", "a?[31mb"),
        ("a\x07", "a?"),
        ("a\u202eb", "a?b"),
        ("a\n\t b", "a b"),
        ("Flügel ≥ 5°", "Flügel ≥ 5°"),
    ],
)
def test_control_signs_do_no_harm(given: str, shown: str) -> None:
    """A title cannot clear the screen, ring, or turn the direction of what follows."""
    assert text(given).plain == shown


def test_a_number_and_its_unit_stay_on_one_line() -> None:
    """The space between them holds while lines are wrapped, and is an ordinary one when they are written."""
    drawn = text("takes 25 min, 3 % likely, 3 minutes")
    assert drawn.plain == f"takes 25{FIRM_SPACE}min, 3{FIRM_SPACE}% likely, 3 minutes"
    assert showable(drawn.plain, Stream(False)) == "takes 25 min, 3 % likely, 3 minutes"


def test_typographic_signs_have_a_plain_form_where_the_stream_cannot_show_them() -> None:
    """Quotation marks become straight ones rather than question marks."""
    assert showable("“a” ≥ 5", Stream(False, "ascii")) == '"a" >= 5'
    assert showable("“a” ≥ 5", Stream(False)) == "“a” ≥ 5"


def test_a_title_at_the_beginning_of_a_line_has_a_capital_letter() -> None:
    """Only the first letter is touched."""
    assert title("aRM lamp").plain == "ARM lamp"
    assert title("").plain == ""


def test_text_that_is_read_aloud_is_asked_for_or_shown_on_a_dumb_terminal() -> None:
    """FAULTREE_PLAIN asks for it anywhere; a pipe of a dumb terminal is no screen that is read."""
    terminal = Stream(True)
    assert look_of(terminal, {"TERM": "dumb"}).spoken
    assert look_of(terminal, {"FAULTREE_PLAIN": "1"}) == Look(plain=True, width=None, spoken=True)
    assert look_of(Stream(False), {"FAULTREE_PLAIN": "1"}).spoken
    assert not look_of(Stream(False), {"TERM": "dumb"}).spoken
    assert not look_of(terminal, {"NO_COLOR": "1"}).spoken


def test_a_windows_console_without_escape_codes_is_plain(monkeypatch: pytest.MonkeyPatch) -> None:
    """Older consoles of Windows would show the codes themselves."""
    monkeypatch.setattr("faultree.terminal.look.detect_legacy_windows", lambda: True)
    assert look_of(Stream(True), {}) == Look(plain=True, width=None)


@pytest.mark.parametrize("encoding", ["cp1252", "cp437", "cp850", "cp852", "cp866", "cp932", "ascii"])
def test_the_code_pages_of_consoles_get_signs_that_they_have(encoding: str) -> None:
    """Quotes and relation signs have a plain form; whatever else cannot be shown is left to the stream."""
    words = showable("“lamp” ≥ 5, a–b → c …", Stream(True, encoding))
    assert words.encode(encoding, "replace").count(b"?") == 0
