"""A sheet has a drawing for each report that is looked into, each with the causes of its own."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from faultree.diagrams import tree
from faultree.diagrams.frame import NOTICE
from faultree.journal import book
from faultree.journal.records import Flight
from faultree.journal.store import Store
from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.reports.pictures import Picture, pictures
from tests.journal.cases import debriefed, opened
from tests.walk.small import small

MADE = datetime(2031, 5, 4, 13, 0, tzinfo=UTC)

TWO = """
faultree: 1
title: Two lamps, invented for tests
conditions: {on: {title: power is on}}
causes:
  bulb-one: {title: bulb 1 broken, probability: 0.02}
  fuse-one: {title: fuse 1 blown, probability: 0.01}
  bulb-two: {title: bulb 2 broken, probability: 0.03}
  fuse-two: {title: fuse 2 blown, probability: 0.02}
signals:
  one: {title: lamp 1 lit, follows: on, lost_if: [bulb-one, fuse-one]}
  two: {title: lamp 2 lit, follows: on, lost_if: [bulb-two, fuse-two]}
situations: {lit: {title: power on, sets: {on: yes}}}
symptoms:
  one-dark: {title: lamp 1 stays dark, situation: lit, sees: {one: no}}
  two-dark: {title: lamp 2 stays dark, situation: lit, sees: {two: no}}
"""


@pytest.fixture
def mine(tmp_path: Path) -> Iterator[Store]:
    store = opened(tmp_path / "j.sqlite")
    yield store
    store.close()


def both(store: Store) -> tuple[Picture, ...]:
    library = load_texts({"two.yaml": TWO})
    number = book.open_case(store, Flight("HM-VLA"), ["one out", "two out"], library.digest)
    for place, symptom in enumerate(("two/one-dark", "two/two-dark"), 1):
        book.match(store, number, place, symptom)
    return drawn(library, store, number)


def drawn(library: Library, store: Store, number: int) -> tuple[Picture, ...]:
    return pictures(library, book.read(store, number), MADE, "faultree 0")


def words(picture: Picture) -> str:
    return " ".join(re.sub("<[^>]*>", " ", picture.svg).split())


def test_every_report_is_drawn_with_the_causes_that_it_points_to(mine: Store) -> None:
    first, second = both(mine)
    assert (first.title, second.title) == ("lamp 1 stays dark", "lamp 2 stays dark")
    assert "fuse 1" in words(first)
    assert "fuse 2" not in words(first)
    assert "fuse 2" in words(second)
    assert "fuse 1" not in words(second)


def test_the_way_from_the_likeliest_cause_is_heavy_in_each(mine: Store) -> None:
    assert all('fill="none" stroke="#9a4a12"' in one.svg for one in both(mine))


def test_what_is_left_out_is_said_and_how_to_get_it(mine: Store) -> None:
    (found,) = drawn(small(), mine, debriefed(mine, answers=[]).head.id)
    assert "causes of 5 % or more" in found.said
    assert "faultree draw signal/dark -o tree.pdf" in found.said


def test_a_gate_beside_which_something_is_missing_says_so(mine: Store) -> None:
    (found,) = drawn(small(), mine, debriefed(mine, answers=[("click", "silence")]).head.id)
    assert re.search(r"\d of \d (ways|conditions|inputs)", words(found))


def test_nothing_of_the_notice_is_cut_off_on_a_narrow_drawing(mine: Store) -> None:
    (found,) = drawn(small(), mine, debriefed(mine, answers=[]).head.id)
    assert NOTICE in words(found)
    assert "improbable 0.0001." in words(found)
    assert float(re.search(r'viewBox="0 0 ([0-9.]+)', found.svg)[1]) < 400  # type: ignore[index]


def test_with_history_the_authors_figure_stands_beside_the_one_in_use(mine: Store) -> None:
    """The title block says that history is in use, and no band is given another weight in silence."""
    fuse = small().causes["signal/fuse-blown"]
    causes = {**small().causes, fuse.id: replace(fuse, probability=0.0125)}
    taught = replace(small(), causes=causes, history="History is in use, from 3 cases.")
    (found,) = drawn(taught, mine, debriefed(mine, answers=[]).head.id)
    assert "probable, p = 0.01; with history p = 0.0125" in words(found)
    assert "History is in use, from 3 cases." in words(found)


def test_a_report_that_is_too_large_is_named(mine: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tree, "MOST_ON_ONE", 1)
    (found,) = drawn(small(), mine, debriefed(mine).head.id)
    assert found.svg == ""
    assert "'faultree draw signal/dark -o tree.pdf' draws it" in found.said


def test_no_walk_no_drawing(mine: Store) -> None:
    assert drawn(small(), mine, debriefed(mine, symptom=None).head.id) == ()
