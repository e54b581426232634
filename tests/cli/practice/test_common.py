"""What the commands share: files are written whole or refused in words before work is lost."""

from __future__ import annotations

from pathlib import Path

import click
import pytest

from faultree.base.errors import CaseError, FaultreeError
from faultree.cli.practice.common import new_file, read_data, write_data


def test_a_new_file_may_be_anything_where_nothing_is(here: Path) -> None:
    new_file(None, force=False)
    new_file("a.json", force=False)
    new_file(str(here / "a.SVG"), ".svg", force=False)


def test_a_file_that_is_there_or_has_no_folder_is_refused(here: Path) -> None:
    (here / "a.json").touch()
    with pytest.raises(FaultreeError, match="name another file or add --force"):
        new_file("a.json", force=False)
    new_file("a.json", force=True)
    with pytest.raises(FaultreeError, match="there is no folder no"):
        new_file("no/a.json", force=False)
    with pytest.raises(click.UsageError, match=r"end it in \.svg"):
        new_file("a.png", ".svg", force=True)


def test_data_comes_back_as_it_was_written(here: Path) -> None:
    write_data(here / "a.json", {"words": "ä “x”", "n": [1.5]}, force=False)
    assert read_data(here / "a.json") == {"words": "ä “x”", "n": [1.5]}


def test_a_mark_at_the_beginning_of_a_file_does_no_harm(here: Path) -> None:
    (here / "a.json").write_bytes(b"\xef\xbb\xbf{}")
    assert read_data(here / "a.json") == {}


def test_what_is_nested_too_deeply_is_no_exercise(here: Path) -> None:
    (here / "deep.json").write_text("[" * 200_000, encoding="utf-8")
    with pytest.raises(CaseError, match="is no exercise or run of faultree"):
        read_data(here / "deep.json")
