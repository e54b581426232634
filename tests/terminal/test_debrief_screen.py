"""The state of a case at one look, with cautions before the steps that need them."""

from __future__ import annotations

import io
from datetime import UTC, datetime
from pathlib import Path

from faultree.reports.sheet import debrief_sheet
from faultree.terminal.debrief_screen import draw_state
from faultree.terminal.look import Look, Page
from faultree.terminal.pump import Screen
from tests.journal.cases import HOSTILE, debriefed, opened
from tests.walk.small import small


def drawn(tmp_path: Path, width: int = 80, **given: object) -> str:
    store = opened(tmp_path / "j.sqlite")
    sheet = debrief_sheet(small(), debriefed(store, **given), datetime(2031, 5, 4, tzinfo=UTC))  # type: ignore[arg-type]
    store.close()
    out = io.StringIO()
    Screen(out, Look(plain=True, width=width)).show(draw_state(sheet, Page(width, plain=True)))
    return out.getvalue()


def test_all_of_it_is_there_in_order(tmp_path: Path) -> None:
    out = " ".join(drawn(tmp_path, answers=[("click", "silence")]).split())
    parts = ["The state of case 1", "Likeliest", "signal fuse blown", "Excluded, and why", "First for the line",
             "Not known", "SM 33, invented", "Likelihood bands", "approved maintenance manual"]  # fmt: skip
    places = [out.index(one) for one in parts]
    assert places == sorted(places)


def test_a_caution_stands_before_its_step(tmp_path: Path) -> None:
    out = drawn(tmp_path, answers=[])
    first = out.partition("First for the line")[2]
    assert first.index("WARNING") < first.index("(line")


def test_lines_stay_within_the_width(tmp_path: Path) -> None:
    for width in (40, 80, 120):
        folder = tmp_path / str(width)
        folder.mkdir()
        assert max(map(len, drawn(folder, width).splitlines())) <= width


def test_hostile_words_are_text(tmp_path: Path) -> None:
    out = drawn(tmp_path, words=HOSTILE, symptom=None)
    assert "<script>alert(1)</script>" in out
    assert "\x1b" not in out


def test_invented_cases_say_so(tmp_path: Path) -> None:
    assert "Invented for demonstration" in drawn(tmp_path, origin="demonstration")
