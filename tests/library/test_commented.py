"""Each comment belongs to what a reader would say that it belongs to."""

from __future__ import annotations

import pytest

from faultree.library.commented import Commented, Entry, Group, comments, read
from faultree.library.marked import FAST_LOADER, SAFE_LOADER


def _owners(text: str) -> dict[str, str]:
    """Each comment with its place: above, beside or at the end of what."""
    found: dict[str, str] = {}
    file = read(text)
    found |= dict.fromkeys(filter(None, file.head), "head")
    _visit(file.root, "", found)
    assert sorted(found) == sorted(comments(file))
    return found


def _visit(group: Group, path: str, found: dict[str, str]) -> None:
    for place, entry in enumerate(group.entries):
        own = f"{path}/{_named(entry, place)}"
        found |= dict.fromkeys(filter(None, entry.above), f"above {own}")
        found |= {entry.beside: f"beside {own}"} if entry.beside else {}
        if isinstance(entry.value, Group):
            _visit(entry.value, own, found)
    found |= dict.fromkeys(filter(None, group.tail), f"end of {path}")


def _named(entry: Entry, place: int) -> str:
    return str(place) if entry.key is None else entry.key.text


BLOCK = """\
# 1

a: 1  # 2
# 3
b:  # 4
  # 5
  c: 6
    # 7
  # 8
  d:
  - e # 9
  # 10
  - - f
    # 11
  # 12
# 13
g: |  # 14
  # no comment

# 15
h: "# no comment"
i:
  # 16
  j
# 17
"""
OWNERS = {
    "# 1": "head",
    "# 2": "beside /a",
    "# 3": "above /b",
    "# 4": "beside /b",
    "# 5": "above /b/c",
    "# 7": "above /b/d",
    "# 8": "above /b/d",
    "# 9": "beside /b/d/0",
    "# 10": "above /b/d/1",
    "# 11": "end of /b/d/1",
    "# 12": "end of /b",
    "# 13": "above /g",
    "# 14": "beside /g",
    "# 15": "above /h",
    "# 16": "above /i",
    "# 17": "end of ",
}


def test_comments_of_a_file_in_lines() -> None:
    assert _owners(BLOCK) == OWNERS


def test_comments_within_brackets() -> None:
    text = "a: [ # 1\n  b, # 2\n  # 3\n  {c: d, # 4\n  e: f} # 5\n  # 6\n] # 7\ng: { # 8\n}\n"
    assert _owners(text) == {
        "# 1": "above /a/0",
        "# 2": "beside /a/0",
        "# 3": "above /a/1",
        "# 4": "beside /a/1/c",
        "# 5": "beside /a/1",
        "# 6": "end of /a",
        "# 7": "beside /a",
        "# 8": "end of /g",
    }


def test_two_comments_beside_one_value() -> None:
    """The first one goes above."""
    assert _owners("a: # 1\n  b # 2\n") == {"# 1": "above /a", "# 2": "beside /a"}


def test_a_comment_behind_a_dash_is_above_its_entry() -> None:
    assert _owners("a:\n  - # 1\n    b: c\n") == {"# 1": "above /a/0"}


@pytest.mark.parametrize(
    "text", [BLOCK, "a: é # 'é\u2028b: \U0001f600 # ü\n", "a: b#c\n", "a: 'b''#c' #d\n", "a: b", "{a: b}"]
)
def test_both_parsers_agree(text: str) -> None:
    assert read(text, FAST_LOADER) == read(text, SAFE_LOADER)


def _shape(file: Commented) -> list[list[str]]:
    return [one.above for one in file.root.entries]


def test_empty_lines_are_kept_with_what_follows() -> None:
    """Also those below a text block, unless they belong to it."""
    assert _shape(read("a: 1\n\nb: >\n  t\n\n\nc: |+\n  t\n\nd: 1\n")) == [[], [""], ["", ""], []]


def test_many_comments_take_no_longer_each() -> None:
    """A line is found by its place, not by counting from the top."""
    text = "".join(f"# {i}\nx-{i}: {i} # beside {i}\n" for i in range(20_000))
    file = read(text)
    assert sum(1 for _ in comments(file)) == 40_000
    assert file.root.entries[19_999].beside == "# beside 19999"
