"""How findings name things: short ids at home, full ones abroad, and sets in words."""

from __future__ import annotations

from faultree.library.model import Item, System
from faultree.strategy.lint.study import called, faults_in, name_in, names_in, undecided, where

HERE = Item(id="here/part", title="part")


def test_entries_are_called_by_kind_and_short_id() -> None:
    assert called(HERE) == "item 'part'"
    assert called(System(id="here", title="Here")) == "system 'here'"


def test_what_stands_in_another_file_is_named_in_full() -> None:
    assert name_in(HERE, "here/a") == "'a'"
    assert names_in(HERE, ["here/a", "there/a", "here/b"]) == "'a', 'there/a' and 'b'"
    assert where(HERE, "here/x") == "in situation 'x'"
    assert where(HERE, None) == "with all as usual"


def test_fault_sets_are_in_words() -> None:
    assert faults_in(HERE, []) == "with nothing wrong"
    assert faults_in(HERE, {"here/a"}) == "with 'a'"
    assert faults_in(HERE, {"there/a", "here/b"}) == "with 'b' and 'there/a' together"


def test_what_is_undecided_says_what_was_asked() -> None:
    found = undecided(HERE, "whether it is so")
    assert found.undecided
    assert found.message == "cannot be decided: whether it is so"
