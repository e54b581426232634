"""The page of a chart: the proof, cautions before each step, every answer with where it leads, and a hand-over."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.library.load import load_texts
from faultree.strategy.chart.nodes import DOUBTED, STRANGE
from faultree.strategy.chart.value import End, Open, Step
from faultree.walk.chart_blocks import EndBlock, OpenLine, StepBlock, Way
from faultree.walk.chart_page import page_of
from faultree.walk.prompt import NOTICE
from tests.strategy.chart.by_hand import chart, repairs
from tests.walk.small import SIGNAL, small


def _step(number: int) -> StepBlock:
    block = page_of(small(), chart()).blocks[number - 1]
    assert isinstance(block, StepBlock)
    return block


def _end(number: int) -> EndBlock:
    block = page_of(small(), chart()).blocks[number - 1]
    assert isinstance(block, EndBlock)
    return block


def test_the_head_says_what_the_chart_is_for_and_who_decides() -> None:
    """Purpose, worst case, the report with its manual, the approved data, the notice and how to leave the chart."""
    page = page_of(small(), chart())
    assert dict(page.facts)["Purpose"] == "To tell apart what would be replaced"
    assert dict(page.facts)["At worst"] == "28 min; 2.0 checks on average"
    assert page.notice == NOTICE
    assert page.reported[0].manual == "SM 33-40"
    assert page.authorities == (("Landing signal", "SM 33, invented"),)
    assert any("faultree walk signal/dark" in line for line in page.use)
    assert "probable 0.01" in page.scale


def test_a_chart_for_some_people_and_one_that_was_cut_say_so() -> None:
    """Whoever holds the page must know what is not on it."""
    facts = dict(page_of(small(), replace(chart(), by=("crew",), cut=0.012)).facts)
    assert facts["For"] == "crew only"
    assert facts["Cut off"].startswith("1.2 % of cases")


def test_a_step_says_all_that_is_needed_before_it_is_made() -> None:
    """Warnings first, then situation, access with its minutes, tools, manual and note."""
    step = _step(4)
    assert [line.level for line in step.cautions] == ["warning", "caution", "caution", "note"]
    assert dict(step.facts) == {
        "Access": "take the left panel off (15 min)",
        "When": "power on and the button pressed",
        "Tools": "multimeter",
        "Manual": "SM 33-43",
        "Note": "Press the button during the measurement.",
    }
    assert step.takes == "25 min, 15 min of it for access"
    assert step.come_from == (1,)
    assert step.open == OpenLine(
        (("signal lamp broken", 0.5), ("signal relay stuck open", 0.25), ("signal wire broken", 0.05)), 0
    )


def test_every_answer_says_where_it_leads_and_what_is_found_there() -> None:
    """Where a branch ends the page says at once with what."""
    assert _step(2).ways == (Way("Yes", 0.5, 6, "signal relay or signal wire broken"), Way("No", 0.5, 3, "signal fuse"))
    assert [way.found for way in _step(1).ways] == ["", ""]


def test_an_answer_that_is_not_listed_is_named() -> None:
    """A technician who finds just that must not think that it was forgotten."""
    one = chart()
    node = one.nodes[2]
    assert isinstance(node, Step)
    sure = replace(node, exits=(replace(node.exits[0], probability=1.0),))
    block = page_of(small(), replace(one, nodes={**one.nodes, 2: sure})).blocks[1]
    assert isinstance(block, StepBlock)
    assert block.never == ("No",)
    assert _step(2).never == ()


def test_access_opened_before_is_not_opened_again() -> None:
    """On the way to a later step it stands there as done."""
    one = chart()
    node = one.nodes[4]
    assert isinstance(node, Step)
    again = replace(node, number=5, opens=(), minutes=10.0)
    first = replace(node, target="signal/supply-seen", exits=(replace(node.exits[0], to=5), node.exits[1]))
    again = replace(again, exits=(replace(node.exits[0], to=6), replace(node.exits[1], to=6)))
    block = page_of(small(), replace(one, nodes={**one.nodes, 4: first, 5: again})).blocks[4]
    assert isinstance(block, StepBlock)
    assert dict(block.facts)["Access"] == "done already: take the left panel off"
    assert block.takes == "10 min"


def test_an_end_says_what_is_found_where_the_manual_speaks_of_it_and_what_to_hand_over() -> None:
    """With what has to be closed again behind it."""
    end = _end(5)
    assert end.headline == "Found: signal lamp"
    assert end.facts == (
        ("Item", "signal lamp, 100 %, left panel, SM 33-41"),
        ("Cause", "signal lamp broken 100 %"),
    )
    assert [line.id for line in end.cautions] == ["signal/glass"]
    assert end.do == "Replace the signal lamp."
    assert end.afterwards == ("close what was opened: take the left panel off",)
    assert end.handover == "chart signal/dark; 1 One clear click, 4 Yes; found: signal lamp (100 %); SM 33-41"


def test_where_several_ways_end_together_what_was_done_on_one_is_marked() -> None:
    """The steps are not named, as there is more than one way to have come here."""
    end = _end(6)
    assert end.headline == "Still open: signal relay or signal wire broken"
    assert end.afterwards == ("close what was opened: take the left panel off (if done on the way)",)
    assert end.handover == (
        "chart signal/dark; the steps made and their answers; still open: signal relay (80 %) or "
        "signal wire broken (20 %); SM 33-42; SM 33-49"
    )


def test_what_has_no_manual_reference_says_so() -> None:
    """Nobody shall look for one that is not there."""
    assert dict(_end(3).facts)["Item"] == "signal fuse, 100 %, bay shelf 1, no manual reference"


def test_a_replacement_is_a_step_with_its_operational_check() -> None:
    """And ends where the symptom is gone or somebody else goes on."""
    page = page_of(small(), repairs())
    first, restored, onward = page.blocks
    assert isinstance(first, StepBlock)
    assert isinstance(restored, EndBlock)
    assert isinstance(onward, EndBlock)
    assert first.replaces
    assert dict(first.facts) == {
        "Where": "bay shelf 1",
        "Then": "repeat the operational check and see whether it still holds: the signal lamp stays dark (5 min)",
    }
    assert [way.text for way in first.ways] == ["The symptom is gone", "Still there"]
    assert restored.headline == "The symptom is gone; put right: signal fuse"
    assert restored.facts[0] == ("Put right", "signal fuse, 100 %, bay shelf 1, no manual reference")
    assert restored.handover == "chart signal/dark; 1 The symptom is gone; put right signal fuse; the symptom is gone"
    assert onward.do == "Continue in the shop with: test the relay on the bench."
    assert onward.headline == "Continue in the shop with: test the relay on the bench"
    assert [way.found for way in first.ways] == ["the symptom is gone", "continue in the shop"]
    assert dict(page.facts)["Purpose"].startswith("To make the symptom go away")


@pytest.mark.parametrize("probability", [0.004, 0.2])
def test_faint_causes_are_counted_and_not_named(probability: float) -> None:
    """Except the first two, which are always named."""
    one = chart()
    node = one.nodes[1]
    assert isinstance(node, Step)
    still = (*node.open[:2], *(replace(part, probability=probability) for part in node.open[2:]))
    block = page_of(small(), replace(one, nodes={**one.nodes, 1: replace(node, open=still)})).blocks[0]
    assert isinstance(block, StepBlock)
    assert block.open.more == (2 if probability < 0.005 else 0)


def _cut_at_two(exits: int) -> StepBlock:
    """The second step with so many of its answers leading to an end that was cut off."""
    one = chart()
    ends = {
        node.number: replace(node, cut=True) for node in one if isinstance(node, End) and node.number in (3, 6)[:exits]
    }
    block = page_of(small(), replace(one, nodes={**one.nodes, **ends})).blocks[1]
    assert isinstance(block, StepBlock)
    return block


def test_an_answer_that_no_suspect_gives_says_so() -> None:
    """What is likeliest of the suspects would only mislead there."""
    one = chart()
    ends = {number: one.nodes[number] for number in (3, 6)}
    strange = {number: replace(end, cut=True, say=STRANGE) for number, end in ends.items() if isinstance(end, End)}
    blocks = [
        page_of(small(), replace(one, nodes={**one.nodes, **some})).blocks[1] for some in ({6: strange[6]}, strange)
    ]
    ways = [block.ways for block in blocks if isinstance(block, StepBlock)]
    words = "none of the suspects gives this answer"
    assert ways[0] == (Way("No", 0.5, 3, "signal fuse"), Way("Yes", 0.5, None, words))
    assert ways[1] == (Way("Yes / No", 1.0, None, words),)


def test_where_another_fault_is_likelier_the_answer_says_so() -> None:
    """And not which of the suspects is likeliest."""
    one = chart()
    node = one.nodes[6]
    assert isinstance(node, End)
    block = page_of(small(), replace(one, nodes={**one.nodes, 6: replace(node, cut=True, say=DOUBTED)})).blocks[1]
    assert isinstance(block, StepBlock)
    assert block.ways[-1] == Way("Yes", 0.5, None, "another fault than these suspects is likelier then")


def test_a_branch_that_was_cut_off_leaves_the_chart() -> None:
    """Its end has no number to go to; what is likeliest there is said behind the answer."""
    assert _cut_at_two(1).ways == (
        Way("Yes", 0.5, 6, "signal relay or signal wire broken"),
        Way("No", 0.5, None, "likeliest: signal fuse blown 100 %"),
    )


def test_answers_that_leave_the_chart_stand_together() -> None:
    """One line for all of them keeps the page short."""
    assert _cut_at_two(2).ways == (Way("Yes / No", 1.0, None, ""),)


def test_what_is_only_counted_at_an_end_brings_no_access_and_no_warning() -> None:
    """Nobody opens the left panel for a lamp that is at fault in one case of a thousand."""
    one = chart()
    node = one.nodes[6]
    assert isinstance(node, End)

    def end(chance: float) -> EndBlock:
        causes = (*node.causes, Open("signal/lamp-broken", "signal/lamp", chance))
        cautions = ("signal/live", "signal/glass", "signal/edges")
        wide = replace(node, units=(*node.units, "signal/lamp"), causes=causes, cautions=cautions)
        block = page_of(small(), replace(one, nodes={1: replace(wide, number=1)})).blocks[0]
        assert isinstance(block, EndBlock)
        return block

    assert "Access" in dict(end(0.02).facts)
    assert [line.id for line in end(0.02).cautions] == ["signal/live", "signal/glass", "signal/edges"]
    assert "Access" not in dict(end(0.001).facts)
    assert {"signal/glass", "signal/edges"}.isdisjoint(line.id for line in end(0.001).cautions)
    assert not any("panel" in line for line in end(0.001).afterwards)


def test_faint_units_of_an_open_end_are_counted() -> None:
    """A list of ten items helps nobody; what is found is named in full."""
    one = chart()
    node = one.nodes[6]
    assert isinstance(node, End)
    causes = (
        Open("signal/lamp-broken", "signal/lamp", 0.7),
        *(replace(part, probability=0.15) for part in node.causes),
    )
    faint = Open("signal/fuse-blown", "signal/fuse", 0.001)
    units = ("signal/lamp", *node.units, "signal/fuse")
    wide = replace(node, units=units, causes=(*causes, faint))
    block = page_of(small(), replace(one, nodes={**one.nodes, 6: wide})).blocks[5]
    assert isinstance(block, EndBlock)
    items = [words for label, words in block.facts if label == "Item"]
    assert len(items) == 4
    assert items[-1].startswith("1 more, each below 0.5 %; before one of these go on with live advice")
    assert "signal wire broken (15 %) or 1 more" in block.handover


def test_a_chart_without_a_step_hands_over_at_once() -> None:
    """Nothing can be told apart: the first number is an end."""
    one = chart()
    node = one.nodes[6]
    assert isinstance(node, End)
    block = page_of(small(), replace(one, nodes={1: replace(node, number=1, probability=1.0)})).blocks[0]
    assert isinstance(block, EndBlock)
    assert block.come_from == ()
    assert block.handover.startswith("chart signal/dark; no step made; still open: signal relay (80 %)")


def test_suspects_that_are_there_together_are_explained() -> None:
    """Somebody adds the figures up, and wonders."""
    one = chart()
    node = one.nodes[2]
    assert isinstance(node, Step)
    pair = replace(node, open=tuple(replace(part, probability=0.9) for part in node.open))
    said = "some of them have to be there together"
    assert not any(said in line for line in page_of(small(), one).use)
    assert any(said in line for line in page_of(small(), replace(one, nodes={**one.nodes, 2: pair})).use)


def test_what_was_fitted_is_taken_out_again() -> None:
    """Locks, pins and tags by the words of their cautions, then what was opened; sure only where it is sure."""
    text = SIGNAL.replace("are sharp., level: caution}", "are sharp., level: caution, afterwards: take the guard off}")
    lib = load_texts({"signal.yaml": text})
    lamp, both = page_of(lib, chart()).blocks[4:6]
    assert isinstance(lamp, EndBlock)
    assert isinstance(both, EndBlock)
    assert lamp.afterwards == ("take the guard off", "close what was opened: take the left panel off")
    assert both.afterwards[0] == "take the guard off (if done on the way)"


def test_a_manual_reference_beside_those_of_the_items_is_shown() -> None:
    """A cause may have one of its own."""
    one = chart()
    node = one.nodes[5]
    assert isinstance(node, End)
    more = replace(node, manual=(*node.manual, "SM 33-48"))
    block = page_of(small(), replace(one, nodes={**one.nodes, 5: more})).blocks[4]
    assert isinstance(block, EndBlock)
    assert dict(block.facts)["Manual"] == "SM 33-48"


def test_what_is_not_charted_and_a_search_that_ended_early_are_said_at_the_head() -> None:
    """A page must not look better than it is."""
    facts = dict(page_of(small(), replace(chart(), left_out=0.02, stopped=True)).facts)
    assert facts["Not here"].startswith("Up to 2.0 % of cases")
    assert "better chart may be found" in facts["Stopped"]
    assert "Not here" not in dict(page_of(small(), chart()).facts)
