"""The outline of tree files: the same names as the reader gives, and never an error."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given, settings

from faultree.library.load import load
from faultree.library.outline import outline
from tests.library.test_load_fuzz import edited, edits
from tests.trees.demonstration import TREES


def test_it_names_what_the_reader_reads() -> None:
    """Ids, titles, answers and their texts of the whole demonstration library."""
    library, found = load(TREES), outline(TREES)
    for section in ("symptoms", "causes", "items", "checks"):
        assert getattr(found, section) == {name: one.title for name, one in getattr(library, section).items()}
    assert found.answers == {
        check.id: {answer.id: answer.text for answer in check.answers} for check in library.checks.values()
    }


def test_a_broken_file_hides_no_other(tmp_path: Path) -> None:
    """What comes before a mistake of syntax counts as well; a file that is no text is passed over."""
    (tmp_path / "a.yaml").write_text("symptoms:\n  dark: {title: dark}\n  [", encoding="utf-8")
    (tmp_path / "b.yaml").write_bytes(b"\xff\xfe")
    (tmp_path / "c.yml").write_text("symptoms: {wet: {title: all wet}}", encoding="utf-8")
    assert outline(tmp_path).symptoms["c/wet"] == "all wet"
    assert "b/wet" not in outline(tmp_path).symptoms


@given(edits)
@settings(max_examples=60, derandomize=True)
def test_no_text_is_an_error(tmp_path_factory: object, changes: list[tuple[int, int, str]]) -> None:
    """Whatever stands in the files."""
    folder = tmp_path_factory.getbasetemp()  # type: ignore[attr-defined]  # pytest's own fixture
    (folder / "full.yaml").write_text(edited(changes), encoding="utf-8", errors="replace")
    outline(folder)
