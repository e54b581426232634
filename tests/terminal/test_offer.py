"""Walks that were kept are offered in plain words, and every answer leaves the others where they are."""

from __future__ import annotations

import io
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from faultree.terminal import offer
from faultree.terminal.kept import Keeper, Kept, kept_in
from faultree.terminal.look import Look
from faultree.terminal.pump import Screen
from faultree.walk import saved
from tests.terminal.drawn import Script
from tests.walk.small import asked, walked

NOON = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Two kept walks, of three and of one hour ago."""
    for hours, answer in ((3, "silence"), (1, "click")):
        keeper = Keeper(tmp_path, "trees", lambda hours=hours: NOON - timedelta(hours=hours))  # type: ignore[misc]
        keeper.keep(saved.pack(walked(*asked("click", answer))), Path("mine.yaml") if hours == 3 else None)
        keeper.leave()
    return tmp_path


def _choose(folder: Path, *lines: str) -> tuple[offer.Chosen, str]:
    record = io.StringIO()
    found = list(kept_in(folder, "trees"))
    chosen = offer.choose(found, Screen(record, Look(True, 80)), Script(lines), NOON)
    return chosen, record.getvalue()


def test_each_is_shown_with_its_steps_and_its_age(folder: Path) -> None:
    """The newest first."""
    _, text = _choose(folder, "quit")
    assert "Kept from before" in text
    assert text.index("1 step, 60 min ago") < text.index("1 step, 3 h ago; saved in mine.yaml before that")
    assert text.count("The signal lamp stays dark") == 2
    assert all(len(line) <= 80 for line in text.splitlines())


@pytest.mark.parametrize("lines", [("1",), ("perhaps", "9", "", "1")])
def test_a_number_takes_one_up_and_leaves_the_other(folder: Path, lines: tuple[str, ...]) -> None:
    """What is not understood is asked again."""
    chosen, _ = _choose(folder, *lines)
    assert isinstance(chosen, Kept)
    (other,) = kept_in(folder, "trees")
    assert other.path != chosen.path
    other.leave()
    chosen.leave()


@pytest.mark.parametrize(("lines", "chosen"), [(("new",), "new"), (("n",), "new"), (("quit",), "leave"), ((), "leave")])
def test_new_and_leaving_keep_both(folder: Path, lines: tuple[str, ...], chosen: str) -> None:
    """The end of input means leaving."""
    assert _choose(folder, *lines)[0] == chosen
    found = list(kept_in(folder, "trees"))
    assert len(found) == 2
    for one in found:
        one.leave()


def test_what_is_discarded_is_not_offered_again(folder: Path) -> None:
    """With the last one gone a new walk begins."""
    chosen, text = _choose(folder, "discard 2", "discard 1")
    assert chosen == "new"
    assert text.count("Discarded: the signal lamp stays dark.") == 2
    assert "A walk is kept from before" in text
    assert list(kept_in(folder, "trees")) == []


def test_only_the_newest_few_are_listed(tmp_path: Path) -> None:
    """The others are counted, with the folder where they are."""
    for minute in range(7):
        keeper = Keeper(tmp_path, "trees", lambda minute=minute: NOON - timedelta(minutes=minute))  # type: ignore[misc]
        keeper.keep(saved.pack(walked(*asked("click", "click"))), None)
        keeper.leave()
    chosen, text = _choose(tmp_path, "6", "new")
    assert chosen == "new"
    assert "and 2 older ones in" in text
    assert "just now" in text


def test_a_number_of_any_length_is_one_that_the_list_has_not(folder: Path) -> None:
    chosen, text = _choose(folder, "000001234567", "discard 000001234567", "9" * 5000, "new")
    assert chosen == "new"
    assert text.count("Type a number of the list") == 3
