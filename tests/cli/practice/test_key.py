"""`practice key`: the answer on the screen, or as a page to print."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.practice.runs import bad, good, set_motor


def test_the_key_of_a_file_and_of_a_code() -> None:
    set_motor()
    out = good("key", "e.json")
    assert "Hidden    Motor dead" in out
    shown = good("still", "--seed", "4")
    code = next(line.split()[1] for line in shown.splitlines() if line.strip().startswith("Code"))
    assert f"Code      {code}" in good("key", "--code", code)


def test_exactly_one_exercise_is_named() -> None:
    assert "name an exercise file, or --code" in bad("key", code=2)
    assert "name an exercise file, or --code" in bad("key", "e.json", "--code", "x", code=2)


@pytest.mark.parametrize(("name", "files"), [("k.html", []), ("k.md", ["k-1.svg"]), ("k.txt", [])])
def test_a_page_is_written_with_its_drawing(here: Path, name: str, files: list[str]) -> None:
    """Inside it, or beside it where the form cannot hold one."""
    set_motor()
    out = good("key", "e.json", "-o", name)
    assert out.splitlines() == [f"Written to {one}." for one in (*files, name)]
    text = (here / name).read_text(encoding="utf-8")
    assert "Motor dead" in text
    assert "licensed engineer" in text
    assert sorted(one.name for one in here.glob("k*")) == sorted([*files, name])


def test_nothing_is_written_over(here: Path) -> None:
    set_motor()
    (here / "k.html").write_text("mine", encoding="utf-8")
    (here / "k-1.svg").write_text("mine", encoding="utf-8")
    assert "k.html is there already" in bad("key", "e.json", "-o", "k.html")
    assert "k-1.svg is there already" in bad("key", "e.json", "-o", "k.md")
    assert "end it in .html or .md or .txt" in bad("key", "e.json", "-o", "k.doc", code=2)
