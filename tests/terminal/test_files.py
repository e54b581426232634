"""Saved cases are files that a person can read, and come back as what they were."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultree.base.errors import CaseError
from faultree.library import store
from faultree.terminal import files
from faultree.walk import events as ev
from faultree.walk import saved
from tests.terminal.drawn import files_in
from tests.walk.small import asked, walked

WALK = walked(*asked("voltage", "no"), ev.TakeUp("click"), ev.CannotTell(), ev.Note("on: 1e3, 'odd'\ttext"))


@pytest.mark.parametrize("name", ["case.yaml", "case.json", "case.JSON", "case.txt"])
def test_what_is_written_is_read_back(tmp_path: Path, name: str) -> None:
    """As YAML, and as JSON where the name says so."""
    data = saved.pack(WALK)
    path = tmp_path / name
    store.replace(path, files.dump(data, name))
    assert files.load(path) == data


def test_a_saved_case_can_be_read_by_a_person(tmp_path: Path) -> None:
    """Ids, answers and notes stand there as words; the head says what the file is and who decides."""
    store.replace(tmp_path / "a.yaml", files.dump(saved.pack(WALK), "a.yaml"))
    (text,) = files_in(tmp_path).values()
    assert text.startswith("# A saved case of faultree.")
    assert "licensed engineer" in text.splitlines()[1]
    assert "- check: signal/voltage\n  answer: 'no'\n" in text or "- check: signal/voltage\n  answer: no\n" in text


WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Cn", "Co")))
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**9), 10**9) | WORDS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text("abc", min_size=1), inner, max_size=3),
    max_leaves=8,
)


@given(VALUES, st.sampled_from(["a.yaml", "a.json"]))
def test_any_text_survives(tmp_path_factory: pytest.TempPathFactory, value: object, name: str) -> None:
    """Words such as yes, on, 012 or 1e3 stay words, whatever YAML would make of them."""
    path = tmp_path_factory.mktemp("any") / name
    store.replace(path, files.dump({"value": value}, name))
    assert files.load(path) == {"value": value}


ODD_WORDS = ["yes", "no", "on", "null", "~", "012", "1e3", "1:30", "true", "", "a: b", "- a", "#x", "2024-01-01"]


@pytest.mark.parametrize("word", ODD_WORDS)
def test_words_that_yaml_reads_otherwise_stay_words(tmp_path: Path, word: str) -> None:
    """Each was seen to change somewhere."""
    path = tmp_path / "a.yaml"
    store.replace(path, files.dump({"value": word}, path.name))
    assert files.load(path) == {"value": word}


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "is no saved case"),
        (b"- a\n", "is no saved case"),
        (b"\xff\xfe\x00", "is no UTF-8 text"),
        (b"a: [1\n", "not complete"),
        (b"a: &x 1\nb: *x\n", "not allowed"),
        (b"a\x00b: 1\n", "does not belong"),
    ],
)
def test_what_is_no_saved_case_is_refused_in_words(tmp_path: Path, content: bytes, words: str) -> None:
    """The message names the file, and the place where it can."""
    path = tmp_path / "case.yaml"
    path.write_bytes(content)
    with pytest.raises(CaseError, match=words) as caught:
        files.load(path)
    assert "case.yaml" in str(caught.value)


def test_a_file_that_is_not_there_or_too_large_is_refused(tmp_path: Path) -> None:
    """Neither a traceback nor a full memory."""
    with pytest.raises(CaseError, match="cannot be read"):
        files.load(tmp_path / "none.yaml")
    with pytest.raises(CaseError, match="cannot be read"):
        files.load(tmp_path)
    large = tmp_path / "large.yaml"
    with large.open("wb") as stream:
        stream.truncate(files.MAX_BYTES + 1)
    with pytest.raises(CaseError, match="too large"):
        files.load(large)


@pytest.mark.parametrize(
    ("typed", "name"), [("a", "a.yaml"), (" a.json ", "a.json"), ("'my case'", "my case.yaml"), ("b.yml", "b.yml")]
)
def test_a_typed_name_becomes_a_path(typed: str, name: str) -> None:
    """Quotes are taken off, and a name without an ending is a YAML file."""
    assert files.named(typed) == Path(name)


@pytest.mark.parametrize(
    "typed", ["/", ".", "..", "a/..", "", "'", "~", "~nobody-of-this-name", "a\0b", "a\ud800", "a/"]
)
def test_a_typed_name_that_is_none_is_refused(typed: str) -> None:
    """A folder, nobody's home and signs that no file name can hold: in words, and the walk goes on."""
    with pytest.raises(CaseError, match="is no name for a file"):
        files.named(typed)


def test_a_place_that_may_not_be_looked_at_is_not_there(tmp_path: Path) -> None:
    """Looking for a file to be overwritten raises nothing; writing says what is wrong."""
    assert not files.there(tmp_path / ("x" * 3000))
    assert files.there(tmp_path)
