"""DOT text is the same for the same drawing, holds every word, and an engine draws it as it stands."""

from __future__ import annotations

from pathlib import Path

from faultree.diagrams.dot import dot, dot_sheet
from faultree.diagrams.render import laid_out
from tests.diagrams.small import door, drawn

GOLDEN = Path(__file__).parent / "golden"


def test_a_small_tree_is_written_as_it_always_was() -> None:
    """Drawings live in version control: a change of this text is a change of every drawing."""
    found = dot(drawn(door(), "stands"))
    assert found == (GOLDEN / "door-tree.gv").read_text(encoding="utf-8")


def test_the_same_input_gives_the_same_text() -> None:
    assert dot(drawn(door(), "stands")) == dot(drawn(door(), "stands"))


def test_an_engine_finds_the_nodes_where_they_were_put() -> None:
    """The engine's own listing gives back the place of a node, in inches."""
    sheet = drawn(door(), "stands").sheets[0]
    listed = laid_out(dot_sheet(sheet), "plain", places_kept=True).decode()
    place = {line.split()[1].strip('"'): line.split() for line in listed.splitlines() if line.startswith("node")}
    shape = next(one for one in sheet.shapes if one.id == "top")
    x, y = shape.middle
    assert abs(float(place["top"][2]) * 72 - x) < 1.0
    assert abs(float(place["top"][3]) * 72 - (sheet.height - y)) < 1.0


def test_quotes_and_backslashes_stay_words() -> None:
    library = door(**{"title: fuse blown": r"""title: 'a "b" \N <i>c</i>'"""})
    sheet = drawn(library, "stands").sheets[0]
    drawn_again = laid_out(dot_sheet(sheet), "svg", places_kept=True).decode()
    assert "a &quot;b&quot; \\N &lt;i&gt;c&lt;/i&gt;" in drawn_again


def test_words_become_a_label_only_where_they_stand_in_the_middle() -> None:
    """A box of the logic has rows: each stays where it was put, as in the SVG."""
    text = dot_sheet(drawn(door(), "stands", "logic").sheets[0])
    assert '"door/running!title" [label="motor running\\l"' in text
    assert 'label="motor not running"' in dot(drawn(door(), "stands"))


def test_lines_of_the_legend_are_drawn_too() -> None:
    sheet = drawn(door(), "stands", "logic").sheets[0]
    samples = [line for line in sheet.lines if not line.tail]
    assert samples
    assert dot_sheet(sheet).count(" -> ") == len(sheet.lines)
