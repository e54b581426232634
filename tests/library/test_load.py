"""A path becomes a library, or a list of everything that is wrong, in order."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from faultree.base.errors import LibraryError
from faultree.library.load import MOST_PROBLEMS, load, load_texts, part_of, read, read_part, read_texts
from faultree.library.marked import MAX_BYTES
from tests.library.texts import HEAD

CAUSE = "causes:\n  c: {title: C, probability: 0.1}\n"


def _write(folder: Path, **texts: str) -> None:
    for name, text in texts.items():
        (folder / f"{name}.yaml").write_text(HEAD + text, encoding="utf-8")


def _messages(path: Path) -> list[str]:
    """What is wrong, with the test's own folder cut off."""
    return [str(problem).replace(f"{path.parent}{os.sep}", "") for problem in read(path).problems]


def test_a_folder_is_loaded_and_what_is_no_tree_file_is_passed_over(tmp_path: Path) -> None:
    _write(tmp_path, a=CAUSE, b="events:\n  e: {title: E, any: [a/c]}\n")
    (tmp_path / "c.YML").write_text(HEAD, encoding="utf-8")
    (tmp_path / ".hidden.yaml").write_text("nonsense", encoding="utf-8")
    (tmp_path / "notes.txt").write_text("nonsense", encoding="utf-8")
    (tmp_path / "folder.yaml").mkdir()
    library = load(tmp_path)
    assert list(library.systems) == ["a", "b", "c"]
    assert library.folder == str(tmp_path)
    assert library.causes["a/c"].at.file == str(tmp_path / "a.yaml")
    assert load(str(tmp_path)).digest == library.digest


def test_every_problem_of_every_file_is_raised_in_order(tmp_path: Path) -> None:
    """One run tells all: by file, then line, then column, whatever kind of mistake it is."""
    _write(
        tmp_path,
        b="events:\n  e: {title: E, any: [e]}\n  f: {tytle: F, any: [zzz]}\n",
        a=CAUSE.replace("0.1", "2") + "x: 1\nitems: [a",
        c=CAUSE,
    )
    with pytest.raises(LibraryError) as caught:
        load(tmp_path)
    places = [(Path(one.place.file).name, one.place.line, one.place.column) for one in caught.value.problems]
    assert places == sorted(places)
    assert places == [
        ("a.yaml", 4, 30),
        ("a.yaml", 5, 1),
        ("a.yaml", 6, 8),
        ("a.yaml", 6, 8),
        ("b.yaml", 4, 3),
        ("b.yaml", 5, 3),
        ("b.yaml", 5, 7),
        ("b.yaml", 5, 23),
    ]
    assert str(caught.value) == "\n".join(str(one) for one in read(tmp_path).problems)


def test_one_file_is_read_among_its_neighbours(tmp_path: Path) -> None:
    """Its references lead into the files beside it; their problems are not its own."""
    _write(tmp_path, a="events:\n  e: {title: E, any: [b/c]}\n", b=CAUSE, bad="")
    assert load(tmp_path / "a.yaml").causes["b/c"].title == "C"
    _write(tmp_path, bad="x: 1\n")
    assert read(tmp_path / "a.yaml") == (None, ())
    with pytest.raises(LibraryError, match=r"bad.yaml:3:1: unknown key 'x'"):
        load(tmp_path / "a.yaml")
    _write(tmp_path, a="y: 1\n")
    assert [one.message for one in read(tmp_path / "a.yaml").problems] == ["unknown key 'y' of a tree file"]
    with pytest.raises(LibraryError, match=r"^\S+a.yaml:3:1: unknown key 'y'[^\n]+$"):
        load(tmp_path / "a.yaml")


def test_a_file_of_the_folder_one_is_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A bare file name, and the folder `.`, give problems without a folder before the name."""
    _write(tmp_path, a="y: 1\n")
    monkeypatch.chdir(tmp_path)
    assert [str(one.place) for one in read("a.yaml").problems] == ["a.yaml:3:1"]
    assert [str(one.place) for one in read("./a.yaml").problems] == ["a.yaml:3:1"]
    assert [str(one.place) for one in read(".").problems] == ["a.yaml:3:1"]


def test_an_empty_folder_and_a_missing_path(tmp_path: Path) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    (tmp_path / "notes.txt").write_text("x", encoding="utf-8")
    assert _messages(empty) == ["empty: the folder holds no tree file; put a file with the ending .yaml into it"]
    assert _messages(tmp_path / "gone") == ["gone: there is no such file or folder; name a folder of .yaml files"]
    assert _messages(tmp_path / "notes.txt") == [
        "notes.txt: this is no tree file; a tree file has the ending .yaml and no dot before its name"
    ]
    assert read(tmp_path / ("x" * 5000)).problems[0].message == "cannot be read (File name too long)"


def test_a_large_file_is_refused_before_it_is_read(tmp_path: Path) -> None:
    """Its size is asked first: this one has 50 MB on paper and none on disk."""
    with (tmp_path / "a.yaml").open("wb") as file:
        file.truncate(50_000_000)
    assert _messages(tmp_path / "a.yaml") == [
        f"a.yaml: the file has 50,000,000 bytes; at most {MAX_BYTES:,} are read; split it into several systems"
    ]


def test_files_that_cannot_be_read_are_problems_like_others(tmp_path: Path) -> None:
    """A broken link and a pipe, which would never end, hide nothing of the other files."""
    _write(tmp_path, a="events:\n  e: {title: E, any: [gone/c, pipe/c, zzz]}\n")
    (tmp_path / "gone.yaml").symlink_to(tmp_path / "nowhere")
    os.mkfifo(tmp_path / "pipe.yaml")
    messages = [str(one).replace(f"{tmp_path}{os.sep}", "") for one in read(tmp_path).problems]
    assert messages == [
        "a.yaml:4:39: unknown id 'zzz'; define it under conditions, causes, signals or events, or correct the name",
        "gone.yaml: cannot be read (No such file or directory); check the file and its permissions",
        "pipe.yaml: this is no ordinary file; remove it from the folder",
    ]


def test_the_digest_follows_the_texts_and_not_the_folder(tmp_path: Path) -> None:
    """It changes with every byte and every name, and stays when the library moves."""
    texts = {"a.yaml": HEAD, "b.yaml": HEAD + CAUSE}
    digest = load_texts(texts).digest
    assert len(digest) == 64
    assert load_texts(dict(reversed(texts.items()))).digest == digest
    assert load_texts({name: text.encode() for name, text in texts.items()}).digest == digest
    assert load_texts({"x/a.yaml": texts["a.yaml"], "x/b.yaml": texts["b.yaml"]}).digest == digest
    assert load_texts({**texts, "b.yaml": texts["b.yaml"] + "\n"}).digest != digest
    assert load_texts({"a.yaml": HEAD, "c.yaml": HEAD + CAUSE}).digest != digest
    for name, text in texts.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    assert load(tmp_path).digest == digest


def test_of_very_many_problems_the_first_are_listed() -> None:
    text = HEAD + "causes:\n" + "".join(f"  c{i}: {{title: C}}\n" for i in range(MOST_PROBLEMS + 7))
    problems = read_texts({"a.yaml": text, "b.yaml": HEAD + "x: 1"}).problems
    assert len(problems) == MOST_PROBLEMS + 2
    assert str(problems[-2]) == f"a.yaml:{MOST_PROBLEMS + 4}:3: 7 more problems from here on; mend those above first"
    assert problems[-1].place.file == "b.yaml"


def test_the_demonstration_library_loads() -> None:
    """What the project ships has no problem."""
    library = load(Path(__file__).parents[2] / "trees")
    assert len(library.systems) >= 3
    assert len(library.causes) >= 45


def test_the_whole_files_of_a_broken_library_are_a_library(tmp_path: Path) -> None:
    """A file counts as whole where nothing is wrong in it, nor in any file that it leads to."""
    _write(
        tmp_path,
        a=CAUSE,
        b="events:\n  e: {title: E, any: [a/c]}\n",
        bad="x: 1\n" + CAUSE,
        leaning="events:\n  e: {title: E, any: [bad/c]}\n",
        later="events:\n  f: {title: F, any: [leaning/e]}\n",
    )
    for path in (tmp_path, tmp_path / "bad.yaml"):
        part = read_part(path)
        assert part is not None
        assert list(part.systems) == ["a", "b"]
    (tmp_path / "bad.yaml").unlink()
    (tmp_path / "leaning.yaml").unlink()
    (tmp_path / "later.yaml").unlink()
    assert part is not None
    assert part.digest == load(tmp_path).digest


def test_where_no_file_is_whole_there_is_no_part(tmp_path: Path) -> None:
    _write(tmp_path, bad="x: 1\n")
    assert read_part(tmp_path) is None
    assert read_part(tmp_path / "gone") is None
    assert part_of({}) is None


def test_a_cycle_over_two_files_takes_both_out() -> None:
    """It is told at one of the two, and the other refers to that one."""
    circle = {
        "a.yaml": HEAD + "events:\n  e: {title: E, any: [b/e]}\n",
        "b.yaml": HEAD + "events:\n  e: {title: E, any: [a/e]}\n",
        "c.yaml": HEAD + CAUSE,
    }
    part = part_of(circle)
    assert part is not None
    assert list(part.systems) == ["c"]
