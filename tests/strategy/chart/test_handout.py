"""A fixed order is read with every problem in one run, each with its line and a remedy."""

from __future__ import annotations

import pytest

from faultree.base.problem import Place, Problem
from faultree.library.load import load_texts
from faultree.strategy.chart.handout import Made, read_handout, read_text
from tests.walk.small import SIGNAL, small


def test_a_list_of_checks_is_read_in_its_order() -> None:
    """Short ids are enough where they are clear."""
    found = read_handout(small(), "# copied from a handout\n- voltage\n- signal/click\n", "mine.yaml")
    assert found.problems == ()
    assert found.order == (Made("check", "signal/voltage"), Made("check", "signal/click"))


def test_with_repairs_an_item_may_stand_in_the_list() -> None:
    """It is replaced there; for the other goals only checks count."""
    text = "- click\n- fuse\n- wire-broken\n"
    found = read_handout(small(), text, "mine.yaml", "restore")
    assert found.order[1:] == (Made("replace", "signal/fuse"), Made("replace", "signal/wire-broken"))
    problems = [str(one) for one in read_handout(small(), text, "mine.yaml").problems]
    assert [one.partition(";")[0] for one in problems] == [
        "mine.yaml:2:3: 'signal/fuse' is an item, and nothing is put right in a chart with the goal item",
        "mine.yaml:3:3: 'signal/wire-broken' is a cause, and nothing is put right in a chart with the goal item",
    ]
    assert all(one.endswith("or compile the chart with --goal restore") for one in problems)


def test_everything_that_is_wrong_is_said_at_once() -> None:
    """Unknown, ambiguous, twice, no id at all, and not for these people."""
    text = "- clik\n- click\n- {check: voltage}\n- click\n- bench\n"
    found = read_handout(small(), text, "mine.yaml", by=("crew", "line"))
    assert found.order == ()
    assert [str(one) for one in found.problems] == [
        "mine.yaml:1:3: unknown check 'clik'; did you mean 'signal/click'?",
        "mine.yaml:3:3: this entry is no check id; write a list of check ids, a line '- CHECK' for each",
        (
            "mine.yaml:4:3: 'signal/click' stands in line 2 already; asked again, a check is no new evidence; "
            "remove one of them"
        ),
        (
            "mine.yaml:5:3: 'signal/bench' is a check for the shop, and this chart is for crew and line only; "
            "remove it, or compile the chart without --by"
        ),
    ]


@pytest.mark.parametrize("text", ["", "click\n", "checks: [click]\n", "[]\n"])
def test_what_is_no_list_is_refused(text: str) -> None:
    """With the form that is wanted."""
    (problem,) = read_handout(small(), text, "mine.yaml").problems
    assert problem.message == "this is no list of checks"
    assert "- CHECK" in problem.hint


def test_yaml_that_does_not_parse_is_a_problem_with_its_place() -> None:
    """As in a tree file."""
    (problem,) = read_handout(small(), "- click\n- [\n", "mine.yaml").problems
    assert problem.place.file == "mine.yaml"
    assert problem.place.line >= 2


def test_bytes_are_read_as_text() -> None:
    """With or without a byte order mark; what is no text is a problem."""
    assert read_text("a", b"\xef\xbb\xbf- click") == "- click"
    assert isinstance(read_text("a", b"\xff\xfe"), Problem)
    trouble = Problem(Place("a"), "cannot be read", "check it")
    assert read_text("a", trouble) is trouble


def test_a_short_id_of_two_files_is_answered_with_both() -> None:
    """The list has to say which."""
    both = load_texts({"signal.yaml": SIGNAL, "beacon.yaml": SIGNAL})
    (problem,) = read_handout(both, "- click\n", "mine.yaml").problems
    assert problem.message == "'click' is the short id of more than one check"
    assert problem.hint == "write 'beacon/click' or 'signal/click'"
