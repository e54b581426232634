"""An end has in full what the bench needs, and cautions come before the work."""

from __future__ import annotations

from faultree.diagrams.chart_end import HALF, end_block, rows_of
from faultree.walk.chart_blocks import EndBlock
from faultree.walk.prompt import CautionLine

END = EndBlock(
    number=4,
    come_from=(1,),
    probability=0.5,
    headline="Found: door motor",
    facts=(("Item", "door motor, 90 %, P 5"),),
    cautions=(CautionLine("door/fingers", "warning", "Keep hands clear of the door.", read=False),),
    do="Replace or repair door motor.",
    afterwards=("close the panel", "take the pin out"),
    handover="chart door/stands; 1 No: door motor",
)


def test_cautions_stand_before_what_is_done() -> None:
    assert [label for label, _ in rows_of(END)] == ["Item", "WARNING", "Do", "Afterwards", "", "Hand over"]


def test_all_words_stand_within_the_block() -> None:
    group = end_block(END, "from step 1", taken=True)
    assert group.w == HALF
    assert all(one.x >= 0 and one.x + one.w <= group.w and one.y + one.h <= group.h for one in group.shapes)
    assert next(one for one in group.shapes if one.id == "end-4").state == "path"
