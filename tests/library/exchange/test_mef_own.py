"""The attributes that faultree writes give back what they carry; whatever does not fit stays an attribute."""

from __future__ import annotations

from faultree.library.exchange.mef_model import Attribute
from faultree.library.exchange.mef_own import attributes_of, restored
from faultree.library.model import Cause, Item, Likelihood

ITEM = Item(id="s/pump", title="The pump", place="bay", minutes=25.0, manual="M 1")


def test_a_cause_and_its_item_come_back() -> None:
    cause = Cause(
        id="s/worn", title="Worn", probability=0.001, item="s/pump", likelihood=Likelihood(band="remote"),
        manual="M 2", note="two\nlines",
    )  # fmt: skip
    found = restored(tuple(attributes_of(cause, ITEM, "pump")), 0.001)
    assert found.item == {"id": "pump", "title": "The pump", "place": "bay", "manual": "M 1", "minutes": 25.0}
    assert found.cause == {"manual": "M 2", "note": "two lines", "likelihood": "remote"}
    assert found.left == ()


def test_the_time_of_a_cause_without_item_comes_back() -> None:
    cause = Cause(id="s/worn", title="Worn", probability=0.5, minutes=12.5)
    found = restored(tuple(attributes_of(cause, None, "")), 0.5)
    assert (found.cause, found.item, found.left) == ({"minutes": 12.5}, {}, ())


def test_what_does_not_fit_is_left() -> None:
    given = (
        Attribute("faultree-item", "two words"),
        Attribute("faultree-item-title", "T"),
        Attribute("faultree-minutes", "soon"),
        Attribute("faultree-likelihood", "remote"),
        Attribute("faultree-manual", "a\u202eb"),
        Attribute("own", "1"),
    )
    found = restored(given, 0.5)
    assert (found.cause, found.item, found.left) == ({}, {}, given)


def test_a_time_beside_an_item_is_left() -> None:
    given = (Attribute("faultree-item", "pump"), Attribute("faultree-minutes", "5"))
    found = restored(given, None)
    assert found.left == (given[1],)
