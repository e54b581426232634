"""The answer to "why" is the case's own; an item is explained by its causes."""

from __future__ import annotations

from faultree.walk import events as ev
from faultree.walk.explain import explain, sentences
from tests.walk.small import asked, walked


def test_a_cause_and_a_check_are_explained_by_the_case() -> None:
    """Nothing is made up above the engine."""
    case = walked().open_case
    for name in ("signal/lamp-broken", "signal/voltage"):
        assert sentences(case, name) == case.why(name)


def test_an_item_is_explained_by_its_causes_likeliest_first() -> None:
    """The relay has two ways of being wrong, and both are explained."""
    case = walked().open_case
    assert sentences(case, "signal/relay") == (*case.why("signal/relay-open"), *case.why("signal/relay-closed"))


def test_nothing_named_means_the_step_on_view() -> None:
    """The title says what is explained."""
    assert explain(walked(ev.TakeUp("voltage")), "").title == "measure the voltage at the lamp"
    assert explain(walked(ev.Replace("fuse")), "").title == "signal fuse"
    assert explain(walked(*asked("voltage", "yes")), " ").title == "signal lamp broken"
