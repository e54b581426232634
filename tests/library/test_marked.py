"""Text becomes nodes with their places and their raw words, and hostile text is refused with little work."""

from __future__ import annotations

from typing import Any

import pytest
import yaml

from faultree.library import marked
from faultree.library.marked import FAST_LOADER, SAFE_LOADER, Array, Scalar, Table, parse

LOADERS = pytest.mark.parametrize("loader", [FAST_LOADER, SAFE_LOADER])


def test_the_parser_in_c_is_used_where_there_is_one() -> None:
    """The wheels of pyyaml carry it; the tests for both parsers would otherwise test one twice."""
    assert yaml.__with_libyaml__
    assert FAST_LOADER is yaml.CSafeLoader


@LOADERS
def test_places_count_from_one_and_words_are_raw(loader: type[Any]) -> None:
    root = parse("on: [yes, 'no']\né: |\n  a\n  b\n", "a.yaml", loader).root
    assert root == Table(
        (
            (
                Scalar("on", True, 1, 1),
                Array((Scalar("yes", True, 1, 6), Scalar("no", False, 1, 11)), 1, 5),
            ),
            (Scalar("é", True, 2, 1), Scalar("a\nb\n", False, 2, 4)),
        ),
        1,
        1,
    )


@LOADERS
@pytest.mark.parametrize("text", ["\ufeffa: b", "a: b\r\n", "%YAML 1.1\n---\na: b\n...\n"])
def test_what_editors_add_is_read(loader: type[Any], text: str) -> None:
    """A mark at the beginning, line ends of another system, a head and an end."""
    root = parse(text, "a.yaml", loader).root
    assert isinstance(root, Table)
    assert [(key.text, value.text) for key, value in root.pairs if isinstance(value, Scalar)] == [("a", "b")]


@LOADERS
@pytest.mark.parametrize("opening", ["[", "{a: ", "- ", "? "])
def test_deep_nesting_is_refused(loader: type[Any], opening: str) -> None:
    """Neither parser may run out of stack: reading stops at a depth that no gate needs."""
    result = parse(opening * 50_000, "a.yaml", loader)
    assert not result.complete
    assert "nested" in result.problems[-1].message


@LOADERS
def test_an_alias_bomb_is_refused_at_its_first_alias(loader: type[Any]) -> None:
    """Nothing is ever multiplied: each alias is reported and stands for nothing."""
    lines = [f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9)}]\n" for i in range(1, 20)]
    result = parse("a0: &a0 lol\n" + "".join(lines), "a.yaml", loader)
    assert len(result.problems) == 20 + 19 * 9
    assert all("is not allowed" in problem.message for problem in result.problems)


@LOADERS
def test_problems_without_end_are_cut_off(loader: type[Any]) -> None:
    result = parse("a: *b\n" * 3000, "a.yaml", loader)
    assert len(result.problems) == marked.MAX_NOTES
    assert not result.complete


@LOADERS
def test_more_values_than_a_tree_file_can_hold(loader: type[Any], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(marked, "MAX_NODES", 10)
    result = parse("[a, b, c, d, e, f, g, h, i, j, k, l]", "a.yaml", loader)
    assert [str(problem) for problem in result.problems] == [
        "a.yaml:1:32: more than 10 values in one file; split the file"
    ]


@LOADERS
@pytest.mark.parametrize(
    ("character", "code"), [("\0", "0000"), ("\x1b", "001B"), ("\ud800", "D800"), ("\ufeff", "FEFF")]
)
def test_what_is_no_text_is_refused(loader: type[Any], character: str, code: str) -> None:
    """NUL and its like never reach the parser; the place is counted as an editor does."""
    (problem,) = parse(f"a: b\nc: d{character}", "a.yaml", loader).problems
    assert str(problem.place) == "a.yaml:2:5"
    assert problem.message == f"the character U+{code} does not belong in a text file"


@LOADERS
def test_an_incomplete_file_keeps_the_entries_that_were_read_to_their_end(loader: type[Any]) -> None:
    """Half an entry says nothing reliable; whole ones before it do."""
    result = parse("items:\n  a: {t: 1}\n  b:\n    t: [\nc: d", "a.yaml", loader)
    assert not result.complete
    assert isinstance(result.root, Table)
    ((key, section),) = result.root.pairs
    assert key.text == "items"
    assert isinstance(section, Table)
    assert [name.text for name, _ in section.pairs] == ["a"]


@LOADERS
@pytest.mark.parametrize("text", ["", "# nothing\n", "   \n\n"])
def test_an_empty_text_has_no_root(loader: type[Any], text: str) -> None:
    assert parse(text, "a.yaml", loader) == (None, True, ())


@LOADERS
def test_a_second_document_is_refused(loader: type[Any]) -> None:
    assert [str(problem) for problem in parse("a: b\n---\nc: d\n", "a.yaml", loader).problems] == [
        "a.yaml:2:1: a second document starts here; a tree file holds one: remove the line '---' or split the file"
    ]
