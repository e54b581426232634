"""A value reads back to the letter, whatever style it is written in."""

from __future__ import annotations

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from faultree.library.commented import Leaf, read
from faultree.library.leaves import WIDTH, WRAP, lines, on_one_line


def _leaf(written: str) -> Leaf:
    found = read(f"k: {written}\n").root.entries[0].value
    assert isinstance(found, Leaf)
    return found


def _back(text: str) -> str:
    """What the parser finds."""
    found = yaml.compose(text, yaml.SafeLoader)
    assert isinstance(found, yaml.MappingNode)
    return str(found.value[0][1].value)


texts = st.text(st.characters(exclude_categories=["Cs"]) | st.sampled_from(" \n\t'\"#:-"), max_size=40)
styles = st.sampled_from(["", "'", '"', "|", ">"])


@given(texts, styles, st.integers(10, 80), st.integers(0, 20))
@settings(max_examples=400, derandomize=True)
def test_any_value(text: str, style: str, width: int, indent: int) -> None:
    """On one line, and on several at any indentation."""
    node = yaml.dump({"k": text}, default_style=style or None, width=width, allow_unicode=True)
    leaf = _leaf(node.partition(":")[2].strip(" ").removesuffix("\n") if style not in ("|", ">") else _behind(node))
    assert _back(f"k: {on_one_line(leaf)}\n") == leaf.text
    first, *rest = lines(leaf, indent + 1, 4)
    assert _back("\n".join([f"{' ' * indent}k: {first}", *rest]) + "\n") == leaf.text


def _behind(node: str) -> str:
    """The value of the only key in a dump, which quotes the key in block style."""
    return node.partition(": ")[2].removesuffix("\n")


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("a  b", ["a  b"]),
        ("'it''s'", ["'it''s'"]),
        ("'it''s\n  so'", ["'it''s so'"]),
        ('"a\\tb\n  c"', ['"a\\tb c"']),
        (">-\n    a\n    b", [">-", "  a", "  b"]),
        (">\n    a\n\n      b\n    c", [">", "  a", "", "    b", "  c"]),
        (">1-\n  a\n  b", ['" a\\n b"']),
        ("|\n    a\n      b\n", ["|", "  a", "    b"]),
        ("|2-\n   a", ['" a"']),
        ("|-\n\n  a", ["|-", "", "  a"]),
        ("|-\n", ['""']),
        ('"a\\nb"', ["|-", "  a", "  b"]),
        ('"a\\n\\u0007"', ['"a\\n\\u0007"']),
    ],
)
def test_the_style_is_kept_where_it_can_be(written: str, expected: list[str]) -> None:
    assert lines(_leaf(written), 2, 3) == expected


def test_a_line_that_is_too_long_is_wrapped() -> None:
    """Only where it can be, and at single spaces."""
    text = "a" * 50 + " " + "b" * 40 + "  " + "c" * 40
    assert lines(Leaf(text, text), 2, 3) == [">-", f"  {'a' * 50}", f"  {'b' * 40}  {'c' * 40}"]
    fitting = "w " * ((WIDTH - 3) // 2 - 1) + "wwww"
    assert lines(Leaf(fitting, fitting), 2, WIDTH - len(fitting)) == [fitting]
    assert len(lines(Leaf(fitting, fitting), 2, WIDTH - len(fitting) + 1)) > 1
    solid = "w" * 200
    assert lines(Leaf(solid, solid), 2, 3) == [solid]


def test_a_block_is_wrapped_anew_only_when_a_line_is_too_long() -> None:
    short = ">-\n  a line of its own\n  and another"
    assert lines(_leaf(short), 2, 3) == short.split("\n")
    long = ">-\n  " + "word " * 30 + "end\n  more"
    wrapped = lines(_leaf(long), 2, 3)
    assert max(map(len, wrapped)) <= WRAP
    assert " ".join(line.strip() for line in wrapped[1:]) == "word " * 30 + "end more"
