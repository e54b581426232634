"""The starter loads, is laid out as the format has it, and its id comes from any name."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faultree.library.arrange import SECTIONS
from faultree.library.load import load_texts
from faultree.library.marked import Table, parse
from faultree.library.shapes import NOUNS
from faultree.library.starter import empty, id_from, starter, title_from
from faultree.library.values import is_id
from faultree.library.writer import write
from faultree.strategy.examples import run
from tests.library.editor import underlined


@pytest.mark.parametrize(
    "title", ["Left door", "27-50: flaps", "it's", "yes", "[x]", "12", "# a", "Türe", "a: 'b' \"c\""]
)
def test_the_starter_loads_with_any_title(title: str) -> None:
    """Its examples hold, an editor finds nothing, and tidy has nothing to do."""
    text = starter(title)
    library = load_texts({"first.yaml": text})
    assert library.systems["first"].title == title
    assert run(library) == ()
    assert underlined(text) == set()
    assert write(text, "first.yaml").text == text


def test_the_starter_shows_every_section_but_events() -> None:
    """Each section of the format with an entry; failure logic of its own is for later."""
    library = load_texts({"first.yaml": starter("T")})
    assert {name for name in NOUNS if not getattr(library, name)} == {"events"}
    assert all(symptom.manual for symptom in library.symptoms.values())
    ways = {(one.likelihood.probability, one.likelihood.rate, one.likelihood.band) for one in library.causes.values()}
    assert [any(way[place] is not None for way in ways) for place in range(3)] == [True, True, True]


def test_the_empty_file_loads_and_has_every_section_ready() -> None:
    """Without the first sign of its comments, too."""
    text = empty("27-50: flaps")
    assert load_texts({"first.yaml": text}).systems["first"].title == "27-50: flaps"
    assert write(text, "first.yaml").text == text
    bare = "\n".join(line.removeprefix("# ") if ":  #" in line else line for line in text.split("\n"))
    root = parse(bare, "first.yaml").root
    assert isinstance(root, Table)
    assert [key.text for key, _ in root.pairs] == ["faultree", "title", *SECTIONS]
    assert load_texts({"first.yaml": bare}).systems["first"].title == "27-50: flaps"


@given(st.text(max_size=30))
@settings(max_examples=300, derandomize=True)
def test_a_name_gives_an_id_or_a_reason(name: str) -> None:
    with suppress(ValueError):
        assert is_id(id_from(name))
    assert title_from(name) == title_from(name).strip()


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("737", "an id begins with a letter, and '737' does not; put a word before it: system-737"),
        ("2nd door", "an id begins with a letter, and '2nd door' does not; put a word before it: system-2nd-door"),
        ("---", "'---' holds no letter from a to z of which an id could be made; name it in such letters"),
        ("дверь", "'дверь' holds no letter from a to z of which an id could be made; name it in such letters"),
    ],
)
def test_a_name_that_gives_no_id(name: str, reason: str) -> None:
    with pytest.raises(ValueError, match="id") as caught:
        id_from(name)
    assert str(caught.value) == reason
