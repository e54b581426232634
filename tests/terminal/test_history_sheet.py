"""What history changed is shown before anything rests on it: the records, and each share before and after."""

from __future__ import annotations

import io

from faultree.journal.lessons import Lessons, taught
from faultree.strategy.learning import Finding
from faultree.terminal.history_sheet import MOST, draw_history
from faultree.terminal.look import Look, Page
from faultree.terminal.pump import Screen
from tests.walk.small import DARK, small

FUSES = (Finding("signal/fuse", "signal/fuse-blown", "confirmed"),) * 6


def shown(findings: tuple[Finding, ...], width: int = 80, spoken: bool = False) -> str:
    learnt = taught(small(), [DARK], Lessons(findings, len(findings), 0, 0))
    out = io.StringIO()
    Screen(out, Look(plain=True, width=width)).show(draw_history(learnt, Page(width, True, spoken)))
    return out.getvalue()


def test_before_and_after_stand_beside_each_other() -> None:
    out = shown(FUSES)
    assert "6 confirmed faults, 0 units with no fault found" in " ".join(out.split())
    line = next(one for one in out.splitlines() if "Signal fuse blown" in one)
    before, after = (float(one) for one in line.replace("%", "").split()[3:5])
    assert before < after
    assert line.rstrip().endswith("6")


def test_without_columns_it_is_a_sentence() -> None:
    for out in (shown(FUSES, width=50), shown(FUSES, spoken=True)):
        flat = " ".join(out.split())
        assert "by the author" in flat
        assert "with history" in flat


def test_without_findings_there_is_no_table() -> None:
    out = shown(())
    assert "holds no finding" in " ".join(out.split())
    assert "author  with history" not in " ".join(out.split())


def test_the_most_moved_come_first() -> None:
    lines = [one for one in shown(FUSES).splitlines() if "%" in one]
    assert "Signal fuse blown" in lines[0]
    assert len(lines) <= MOST
