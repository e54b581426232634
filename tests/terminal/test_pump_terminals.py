"""The same walk at terminals of every kind: narrow, wide, resized, without colour, dumb, without a locale."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.terminal.drawn import cells
from tests.walk.small import SIGNAL

if sys.platform == "win32":
    pytest.skip("needs the terminals of POSIX", allow_module_level=True)

from tests.terminal.ptys import PROGRAM, Terminal, terminal

ASKED = (
    ("ok", "Type ok >"),
    ("1", "Your answer >"),
    ("check voltage", "Type ok when read >"),
    ("ok", "Type ok when read >"),
    ("why A", "Your answer >"),
    ("replace lamp", "Your answer >"),
    ("ok", "Type ok when read >"),
    ("all", "Is it gone? >"),
    ("finish", "Your choice >"),
)
"""Every kind of prompt, and what is typed there."""


@pytest.fixture
def here(tmp_path: Path) -> Path:
    """A folder whose `trees` hold the small library, a title with signs that few terminals can show."""
    (tmp_path / "trees").mkdir()
    text = SIGNAL.replace("title: look at the supply light", "title: look at the “supply” light ≥ 5 Ω")
    (tmp_path / "trees" / "signal.yaml").write_text(text, encoding="utf-8")
    return tmp_path


@contextmanager
def walk(here: Path, columns: int = 80, environ: Mapping[str, str] | None = None) -> Iterator[Terminal]:
    """A walk on the dark lamp at a terminal of its own."""
    kept = {"FAULTREE_STATE": str(here / "state"), **(environ or {})}
    with terminal([*PROGRAM, "walk", "dark"], folder=here, columns=columns, environ=kept) as shown:
        yield shown


def _walked(shown: Terminal) -> str:
    """Everything shown on the way through every kind of prompt."""
    seen: dict[str, int] = {}
    for typed, prompt in ASKED:
        seen[prompt] = seen.get(prompt, 0) + 1
        shown.wait(prompt, seen[prompt])
        shown.type(f"{typed}\n")
    shown.wait("What next? >")
    shown.type("quit\n")
    assert shown.leave() == 0
    assert "Traceback" not in shown.text
    return shown.text


@pytest.mark.parametrize("columns", [40, 80, 200])
def test_no_line_is_wider_than_the_window(here: Path, columns: int) -> None:
    """A narrow window gets all that a wide one gets; a very wide one no lines that nobody can follow."""
    with walk(here, columns) as shown:
        text = _walked(shown)
    assert max(cells(line) for line in text.splitlines()) <= min(columns, 120)
    assert "Broken glass cuts." in text


def test_a_resized_window_is_followed(here: Path) -> None:
    """The next screen has the new width, wider or narrower."""
    with walk(here, 80) as shown:
        shown.wait("Type ok >")
        assert "─" * 80 in shown.text
        shown.resize(110, 30)
        shown.type("ok\n")
        assert "─" * 110 in shown.wait("Your answer >")
        shown.resize(50, 30)
        before = len(shown.text)
        shown.type("show\nquit\n")
        assert shown.leave() == 0
    narrow = shown.text[before:]
    assert "Step 1" in narrow
    assert max(cells(line) for line in narrow.splitlines()) <= 50


def test_without_colour_there_is_none(here: Path) -> None:
    """NO_COLOR: not one code for colour or weight, and no signs that are drawn."""
    with walk(here, environ={"NO_COLOR": "1"}) as shown:
        text = _walked(shown)
    assert b"\x1b[1m" not in shown.raw
    assert b"\x1b[3" not in shown.raw
    assert "─" not in text


@pytest.mark.parametrize("environ", [{"TERM": "dumb"}, {"TERM": "dumb", "NO_COLOR": "1", "FAULTREE_PLAIN": "1"}])
def test_a_dumb_terminal_gets_no_code_at_all(here: Path, environ: dict[str, str]) -> None:
    """No cursor is moved and nothing is drawn over, so a screen reader reads every line once."""
    with walk(here, environ=environ) as shown:
        text = _walked(shown)
    assert b"\x1b" not in shown.raw
    assert "--" not in text
    assert "##" not in text


@pytest.mark.parametrize(
    "environ",
    [
        {"LANG": "C", "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
        {"PYTHONIOENCODING": "cp437"},
        {"PYTHONIOENCODING": "cp1252"},
    ],
)
def test_a_terminal_of_any_encoding_is_served(here: Path, environ: dict[str, str]) -> None:
    """A remote shell without a locale, and the code pages of a Windows console: signs have a plain form."""
    with walk(here, environ=environ) as shown:
        text = _walked(shown)
    assert "─" not in text
    assert "Suspects" in text


def test_the_end_of_the_keyboard_is_the_end_of_the_walk(here: Path) -> None:
    """Ctrl-D: the case is summed up, and the cursor does not stay behind the question."""
    with walk(here) as shown:
        shown.wait("Type ok >")
        shown.type("ok\n")
        shown.wait("Your answer >")
        assert shown.leave("\x04") == 0
    assert "The input has ended" in shown.text
    assert "To hand over" in shown.text
