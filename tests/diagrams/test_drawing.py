"""What is asked for is said once: the symptom's words for the title block, the paper both ways."""

from __future__ import annotations

from faultree.diagrams.drawing import Request
from tests.diagrams.small import CLOCK, door
from tests.trees.demonstration import library


def test_the_title_block_takes_its_words_from_the_library() -> None:
    block = Request(door(), "door/stands", made=CLOCK, version="faultree 1").block("Fault tree", "scale")
    assert block.title == "the door stands still"
    assert block.system == "Door, chapter 52-10"
    assert block.situation == "situation: button held"
    assert block.version == f"library {door().digest[:10]}, faultree 1"
    assert (block.view, block.scale, block.made) == ("Fault tree", "scale", CLOCK)


def test_a_system_without_chapter_and_a_symptom_without_situation_say_nothing_of_them() -> None:
    symptom = next(name for name, one in library().symptoms.items() if one.situation)
    assert Request(library(), symptom).block("x").situation
    bare = door(**{'chapter: "52-10"\n': "", "situation: closing, sees: {closing-door": "sees: {closing-door"})
    block = Request(bare, "door/stands").block("x")
    assert block.system == "Door"
    assert block.situation == ""


def test_paper_comes_both_ways_or_not_at_all() -> None:
    assert Request(door(), "door/stands").ways == ()
    landscape, portrait = Request(door(), "door/stands", paper="letter").ways
    assert (landscape.width, landscape.height) == (792, 612)
    assert (portrait.width, portrait.height) == (612, 792)
