"""A troubleshooting chart as one HTML page to follow on a tablet: it needs no network, and works by keyboard."""

from __future__ import annotations

from dataclasses import asdict

from faultree.base.words import capital
from faultree.reports.pages import rendered, script_data
from faultree.walk.chart_blocks import Block, ChartPage, EndBlock, StepBlock

LEAVE = (
    "The chart does not go on from this answer. Go on with 'faultree walk' and the answers so far, or hand over to a "
    "licensed engineer; 'Back' takes the answer back."
)
"""What is said where the chart is left."""

ANSWERS = "the steps made and their answers"
"""What a line to hand over says where several ways lead to its end; the page knows which way was gone."""


def follow_html(page: ChartPage) -> str:
    """The page. Without its script it still shows the whole chart as a list."""
    blocks = [_block(one) for one in page.blocks]
    return rendered("follow.html.j2", page=page, blocks=blocks, data=script_data(blocks), leave=LEAVE, answers=ANSWERS)


def _block(block: Block) -> dict[str, object]:
    """A step or an end as plain data with the same fields, so that one script can show both."""
    data = asdict(block)
    if isinstance(block, StepBlock):
        own = {"title": f"Put right: {block.title}" if block.replaces else capital(block.title)}
        takes = (("Takes", f"{block.takes}; by {block.by}"),)
        more = {"do": "", "afterwards": (), "handover": "", "facts": (*takes, *block.facts)}
        return {**data, **own, **more}
    assert isinstance(block, EndBlock)  # there are two kinds of blocks
    return {**data, "title": block.headline, "ask": "", "ways": (), "open": None}
