"""What is missing today keeps exactly those steps waiting that need it."""

from __future__ import annotations

import pytest

from faultree.base.errors import CaseError, UnknownName
from faultree.walk import figures, today
from faultree.walk.today import Lack, Today
from tests.trees.demonstration import library
from tests.walk.small import small, walked


def test_a_step_needs_its_tools_its_access_and_itself() -> None:
    """The step itself stands last: it can be left out for any other reason."""
    assert today.needs(small(), "signal/voltage") == (
        Lack("tool", "multimeter"),
        Lack("access", "signal/panel"),
        Lack("check", "signal/voltage"),
    )
    assert today.needs(small(), "signal/lamp") == (Lack("access", "signal/panel"), Lack("unit", "signal/lamp"))
    assert today.needs(small(), "signal/wire-broken") == (Lack("unit", "signal/wire-broken"),)


@pytest.mark.parametrize(
    ("lacks", "waiting"),
    [
        ((), set()),
        ((Lack("tool", "multimeter"),), {"signal/voltage"}),
        ((Lack("access", "signal/panel"),), {"signal/voltage", "signal/lamp"}),
        ((Lack("check", "signal/click"), Lack("unit", "signal/fuse")), {"signal/click", "signal/fuse"}),
    ],
)
def test_what_waits_is_what_needs_it(lacks: tuple[Lack, ...], waiting: set[str]) -> None:
    """Checks by tool and access, replacements by access, and single steps."""
    assert today.waiting(small(), lacks) == waiting


@pytest.mark.parametrize("tool", sorted({tool for check in library().checks.values() for tool in check.tools}))
def test_without_a_tool_no_check_that_needs_it_is_left(tool: str) -> None:
    """In the whole demonstration library; every other check stays."""
    waiting = today.waiting(library(), (Lack("tool", tool),))
    assert waiting == {check.id for check in library().checks.values() if tool in check.tools}


def test_the_figures_leave_out_what_waits() -> None:
    """Advice and checks alike; who is there counts besides."""
    case = walked().open_case
    lacks = (Lack("access", "signal/panel"),)
    advised = {one.check or one.item for one in figures.advice(case, Today(None, lacks))}
    assert advised.isdisjoint({"signal/voltage", "signal/lamp"})
    assert {"signal/voltage", "signal/lamp"} <= {one.check or one.item for one in figures.advice(case)}
    assert {one.check for one in figures.checks(case, Today(("crew",), lacks))} == {"signal/click"}


@pytest.mark.parametrize(
    ("kind", "name", "error"),
    [
        ("tool", "multimetre", UnknownName),
        ("access", "panel", UnknownName),
        ("check", "signal/lamp", UnknownName),
        ("unit", "signal/lamp-broken", UnknownName),
        ("weather", "rain", CaseError),
    ],
)
def test_what_no_step_needs_cannot_be_missing(kind: str, name: str, error: type[Exception]) -> None:
    """A cause of an item is no unit of its own."""
    with pytest.raises(error):
        today.lack_of(small(), kind, name)


def test_what_is_missing_can_be_said_in_words() -> None:
    """In the author's words, whatever kind it is."""
    assert [today.words(small(), one) for one in today.needs(small(), "signal/voltage")] == [
        "multimeter",
        "take the left panel off",
        "the check “measure the voltage at the lamp”",
    ]
    assert today.words(small(), Lack("unit", "signal/fuse")) == "the means to put right: signal fuse"


def test_a_crew_puts_nothing_right() -> None:
    """Repairs are proposed only where somebody else than the crew is there."""
    assert not Today(("crew",)).repairs
    assert Today().repairs
    assert Today(("crew", "line")).repairs
    assert Today(("shop",)).repairs
