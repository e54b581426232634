"""The writer changes no meaning, loses no comment, and has nothing to do the second time."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from faultree.library.load import load_texts, read_texts
from faultree.library.values import own
from faultree.library.writer import write
from tests.house.source import ROOT, name
from tests.library.editor import plain
from tests.library.scruffy import scruffy
from tests.library.test_load_fuzz import edited, edits
from tests.library.texts import HEAD
from tests.oracles.random_libraries import random_library

FULL = Path(__file__).with_name("full.yaml").read_text(encoding="utf-8")


def _write(text: str, file: str = "a.yaml") -> str:
    """The text as written, which must not change when it is written again."""
    done = write(text, file)
    assert done.text is not None, "\n".join(map(str, done.problems))
    assert write(done.text, file).text == done.text
    return done.text


def _model(texts: dict[str, str | bytes]) -> dict[str, Any]:
    """All that a library says, as values that compare without their places."""
    library = load_texts(texts)
    return {field: value for field, value in vars(library).items() if field != "digest"}


def _data(text: str) -> Any:
    """What another reader of YAML finds in a text."""
    return plain(YAML(typ="safe", pure=True).load(text))


@pytest.mark.parametrize("seed", range(40))
def test_the_meaning_and_every_comment_stay(seed: int) -> None:
    """Files in the handwriting of many people: the model stays, and so does what another reader of YAML finds."""
    rng = random.Random(seed)
    base = {"full.yaml": FULL} if seed % 2 else dict(random_library(rng).texts)
    before: dict[str, str | bytes] = {}
    after: dict[str, str | bytes] = {}
    for file, text in base.items():
        messy, strewn = scruffy(text, rng)
        tidy = _write(messy, file)
        assert _data(tidy) == _data(messy)
        assert [note for note in strewn if tidy.count(f"{note}\n") != 1] == []
        before[file], after[file] = messy, tidy
    assert _model(after) == _model(before)


@pytest.mark.parametrize("seed", range(10))
def test_the_handwriting_has_no_say_in_the_layout(seed: int) -> None:
    """Whatever the order of the keys and the width of the indentation, they come out as the format has them."""
    messy, _ = scruffy(FULL, random.Random(seed))
    keys = [line.partition(":")[0] for line in _write(messy).splitlines() if line[:1].isalpha()]
    assert keys == [line.partition(":")[0] for line in FULL.splitlines() if line[:1].isalpha()]


def test_a_file_in_the_layout_stays_to_the_letter() -> None:
    assert _write(FULL, "full.yaml") == FULL


@pytest.mark.parametrize("path", sorted((ROOT / "trees").glob("*.yaml")), ids=name)
def test_the_demonstration_library_keeps_its_meaning(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert _data(_write(text, path.name)) == _data(text)


@given(edits)
@settings(max_examples=300, derandomize=True)
def test_whatever_reads_can_be_written(changes: list[tuple[int, int, str]]) -> None:
    """A file is written, or its problems are those of the reader; never is there a third way."""
    text = edited(changes)
    done = write(text, "full.yaml")
    if done.text is None:
        assert set(done.problems) <= set(read_texts({"full.yaml": text}).problems)
    else:
        assert write(done.text, "full.yaml").text == done.text


words = st.text(st.characters(exclude_categories=["Cs", "Cc"]) | st.sampled_from(" \n:#'\"-\\"), max_size=60)
long = st.lists(st.text(st.characters(categories=["L", "N", "P"]), min_size=1), min_size=20, max_size=50).map(" ".join)


@given(words | long, st.sampled_from(["", "'", '"', "|", ">"]), st.integers(20, 200))
@settings(max_examples=300, derandomize=True)
def test_any_text_in_any_style(text: str, style: str, width: int) -> None:
    """Quotes, blocks and long lines: a value below an author's own key stays to the letter."""
    body = yaml.dump({"x-own": {"a": text}, "x-list": [text]}, default_style=style or None, width=width)
    before = read_texts({"a.yaml": f"faultree: 1\ntitle: T\n{body}"})
    if before.library is not None:
        after = _write(f"faultree: 1\ntitle: T\n{body}")
        assert load_texts({"a.yaml": after}).systems["a"].extra == before.library.systems["a"].extra
        assert max(map(len, after.splitlines())) <= max(map(len, (*body.splitlines(), *text.split(" ")))) + 120


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("items: {i: {minutes: 3, title: I}}\n", "\nitems:\n  i: {title: I, minutes: 3}\n"),
        ("items:\n    i:\n        minutes: 3\n        title: I\n", "\nitems:\n  i:\n    title: I\n    minutes: 3\n"),
        ("summary:   'a'   # why\n", "summary: 'a'  # why\n"),
        ("x-b: 1\nsummary: S\n", "summary: S\nx-b: 1\n"),
        ("items: # all\n  # the first\n  i: {title: I}\n", "\nitems:  # all\n  # the first\n  i: {title: I}\n"),
        ("items:\n\n\n  i: {title: I}\n\n\n  j: {title: J}\n", "\nitems:\n  i: {title: I}\n\n  j: {title: J}\n"),
        ("items:\n  i: {title: I}\n  # no more\n\n# End\n", "\nitems:\n  i: {title: I}\n  # no more\n\n# End\n"),
        (
            "items:\n  i:\n    # three\n    minutes: 3 # or so\n    title: I\n    # last\n",
            "\nitems:\n  i:\n    title: I\n    # three\n    minutes: 3  # or so\n    # last\n",
        ),
        (
            "causes:\n  c: {title: C, # short\n    rate: 1}\n",
            "\ncauses:\n  c:\n    title: C  # short\n    rate: 1\n",
        ),
        (
            "events:\n  e: {title: E, at_least: {of: [a, {at_least: {of: [b], count: 1}}], count: 2}}\n",
            "\nevents:\n  e: {title: E, at_least: {count: 2, of: [a, {at_least: {count: 1, of: [b]}}]}}\n",
        ),
        (
            "examples:\n# one\n- symptom: s\n  title: X\n  expect: {first: c}\n",
            "\nexamples:\n  # one\n  - title: X\n    symptom: s\n    expect: {first: c}\n",
        ),
        (
            "events:\n  e:\n    title: E\n    any:\n    - a\n    - all: [b,\n        c]\n# next\nsymptoms:\n",
            "    title: E\n    any:\n      - a\n      - all: [b, c]\n\n# next\nsymptoms:\n",
        ),
        ("summary: >\n      a\n      b\n\nchapter: c\n", "summary: >\n  a\n  b\n\nchapter: c\n"),
        ("summary: >- # on\n  a\n", "summary: >-  # on\n  a\n"),
        ("summary: a\n  b\n", "summary: a b\n"),
        ("summary: 'a\n\n  b'\n", "summary: |-\n  a\n  b\n"),
        ('"summary": "a\\tb"\n', 'summary: "a\\tb"\n'),
        ("items:\ncauses: # none yet\n", "items:\ncauses:  # none yet\n"),
        ("symptoms:\n  s: {title: S, sees: {'yes': no}}\n", "\nsymptoms:\n  s: {title: S, sees: {'yes': no}}\n"),
    ],
)
def test_what_the_layout_is(before: str, after: str) -> None:
    assert _write(HEAD + before).endswith(after), _write(HEAD + before)


def test_long_lines_are_broken() -> None:
    """A long entry goes over several lines, and a long text is wrapped; a line that fits is left as it is."""
    words = " ".join(f"word{i}" for i in range(30))
    done = _write(HEAD + f"summary: {words}\nitems:\n  i: {{title: I, place: {words[:60]}, manual: {words[:60]}}}\n")
    assert max(map(len, done.splitlines())) <= 100
    assert done.count("\n") == 12
    assert done.splitlines()[2] == "summary: >-"
    assert done.splitlines()[-3:] == [
        "    title: I",
        f"    place: {words[:60]}".rstrip(),
        f"    manual: {words[:60]}".rstrip(),
    ]


def test_the_head_of_a_file_stays_on_top() -> None:
    """Even where the keys below it change places: it may tell an editor of the schema."""
    head = "# yaml-language-server: $schema=x.json\n\n# About lamps\n"
    assert _write(f"\n{head}title: T\nfaultree: 1\n") == f"{head}faultree: 1\ntitle: T\n"


def test_line_ends_are_those_of_the_file() -> None:
    """A file from Windows stays one; the mark before the first character goes."""
    assert _write("\ufefftitle: T\r\nfaultree: 1 # one\r\n") == "faultree: 1  # one\r\ntitle: T\r\n"
    assert _write("title: T\nfaultree: 1") == "faultree: 1\ntitle: T\n"


def test_the_start_of_a_document_goes() -> None:
    assert (
        _write("# a\n--- # b\n# c\nfaultree: 1\ntitle: T\n...\n# d\n") == "# a\n# b\n# c\nfaultree: 1\ntitle: T\n# d\n"
    )


def test_what_does_not_read_is_left_alone() -> None:
    """With the reader's own problems; names that lead nowhere are no hindrance, for a file is written alone."""
    done = write(HEAD + "itmes:\n", "a.yaml")
    assert done.text is None
    assert [str(one) for one in done.problems] == [
        "a.yaml:3:1: unknown key 'itmes' of a tree file; did you mean 'items'?"
    ]
    assert write("faultree: [1", "a.yaml").text is None
    assert write("", "a.yaml").text is None
    assert _write(HEAD + "events:\n  e: {title: E, any: [nowhere]}\n")


def test_an_own_value_keeps_its_quotes() -> None:
    """12 and '12' are not the same below an author's own key."""
    assert own("12", True) != own("12", False)
    assert _write(HEAD + "x-a: ['12', 12, \"true\"]\n").endswith("x-a: ['12', 12, \"true\"]\n")


@pytest.mark.parametrize("style", ["|", ">", ">-"])
@pytest.mark.parametrize("end", [" ", "\n      ", "\n      \n   \n", "\n\n"])
@pytest.mark.parametrize("key", ["summary", "x-own"])
def test_spaces_at_the_end_of_a_text_block_are_settled(key: str, style: str, end: str) -> None:
    """Below an author's own key they belong to the text; and what is laid out once stays so."""
    done = write(f"faultree: 1\ntitle: T\n{key}: {style}\n  {'long ' * 30}a\n  b{end}", "a.yaml").text
    assert done is not None
    assert write(done, "a.yaml").text == done


def test_a_space_at_the_end_of_a_text_block_stays() -> None:
    """It belongs to the text, and what is laid out once is settled."""
    text = f"faultree: 1\ntitle: T\nsummary: >-\n  {'long ' * 30}\nx-own: |\n  a \n  b \n"
    done = write(text, "a.yaml").text
    assert done == text
