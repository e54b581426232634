"""Basic events: their likelihood, their items, and what is told of them."""

from __future__ import annotations

from faultree.library.exchange.open_psa import Options, read_open_psa
from faultree.library.model import Likelihood
from tests.library.exchange.models import gate, library, problems, wrapped

TOP = gate('<or><basic-event name="a"/><basic-event name="b"/></or>')


def _event(name: str, inner: str = "", **attributes: str) -> str:
    own = "".join(f'<attribute name="{key.replace("_", "-")}" value="{value}"/>' for key, value in attributes.items())
    listed = f"<attributes>{own}</attributes>" if own else ""
    return f'<define-basic-event name="{name}">{listed}{inner}</define-basic-event>'


P = '<float value="0.1"/>'


def test_events_without_a_figure_need_a_likelihood_for_all() -> None:
    content = wrapped(TOP, _event("a") + _event("b", P))
    (said,) = problems(content)
    assert said.startswith("2:13: the basic event 'a' has no probability; add it, or give all events without a figure ")
    found = library(content, Options(likelihood="remote"))
    assert found.causes["f/a"].likelihood == Likelihood(band="remote")
    assert found.causes["f/b"].probability == 0.1
    assert library(content, Options(likelihood=0.25)).causes["f/a"].probability == 0.25
    told = read_open_psa(content, "f.xml", "f", Options(likelihood="remote")).notes
    assert told == ("Without a figure, and given the likelihood remote: 1 basic event.",)


def test_events_that_are_declared_nowhere_are_taken_up_with_a_likelihood_and_told() -> None:
    """The specification allows them; a generic reference is no basic event until it is declared."""
    content = wrapped(TOP + gate('<event name="c"/>', "g"), "")
    assert [one.partition(": ")[2].split(";")[0] for one in problems(content, Options(likelihood=0.1))] == [
        "the event 'c' is declared nowhere"
    ]
    found = read_open_psa(wrapped(TOP, ""), "f.xml", "f", Options(likelihood=0.1))
    assert found.notes[0] == "Declared nowhere, and taken for basic events: a and b."


def test_events_of_one_item_exclude_each_other_again() -> None:
    data = _event("a", P, faultree_item="pump", faultree_item_title="The pump") + _event(
        "b", P, faultree_item="pump", faultree_item_title="The pump"
    )
    found = library(wrapped(TOP, data))
    assert {name: one.item for name, one in found.causes.items()} == {"f/a": "f/pump", "f/b": "f/pump"}
    assert found.items["f/pump"].title == "The pump"


def test_attributes_that_contradict_each_other_about_an_item_are_kept_and_not_followed() -> None:
    data = _event("a", P, faultree_item="pump", faultree_item_title="One") + _event(
        "b", P, faultree_item="pump", faultree_item_title="Two"
    )
    found = library(wrapped(TOP, data))
    assert found.causes["f/a"].item == "f/pump"
    assert found.causes["f/b"].item is None
    assert found.causes["f/b"].extra["x-attributes"] == {"faultree-item": "pump", "faultree-item-title": "Two"}


def test_faults_of_one_item_that_add_up_to_certainty_are_refused() -> None:
    data = _event("a", '<float value="0.6"/>', faultree_item="pump") + _event(
        "b", '<float value="0.6"/>', faultree_item="pump"
    )
    (found,) = problems(wrapped(TOP, data))
    assert found.startswith(" the tree file made of it would not read (its line ")
    assert "pump" in found


def test_attributes_and_computed_values_are_kept() -> None:
    found = library(wrapped(TOP, _event("a", f"<mul>{P}{P}</mul>", maker="X &amp; Co") + _event("b", P)))
    assert found.causes["f/a"].extra == {"x-expression": "mul(0.1, 0.1)", "x-attributes": {"maker": "X & Co"}}
    assert found.causes["f/a"].likelihood.probability == 0.1 * 0.1


def test_a_rate_that_a_tree_file_cannot_say_becomes_a_probability() -> None:
    law = '<exponential><float value="5000"/><float value="1e-5"/></exponential>'
    found = library(wrapped(TOP, _event("a", law) + _event("b", P)))
    assert found.causes["f/a"].likelihood.rate is None
    assert 0.048 < found.causes["f/a"].probability < 0.049
