"""A problem says the place, what is wrong, and the remedy."""

from __future__ import annotations

from faultree.base.problem import Place, Problem


def test_an_error_reads_place_message_remedy() -> None:
    """An editor can jump to the place, and a person knows what to do."""
    problem = Problem(Place("trees/x.yaml", 12, 5), "unknown id 'lft'", "did you mean 'left'?")
    assert str(problem) == "trees/x.yaml:12:5: unknown id 'lft'; did you mean 'left'?"


def test_a_milder_problem_says_its_level() -> None:
    """A warning is not mistaken for an error."""
    problem = Problem(Place("x.yaml", 1, 1), "no manual reference", "add `manual`", level="warning")
    assert str(problem) == "x.yaml:1:1: warning: no manual reference; add `manual`"


def test_problems_sort_by_file_line_and_column() -> None:
    """A list of problems is read from the top of the file down."""
    places = [Place("b.yaml", 1, 1), Place("a.yaml", 10, 1), Place("a.yaml", 9, 30), Place("a.yaml", 9, 4)]
    problems = [Problem(place, "m", "h") for place in places]
    assert [str(one.place) for one in sorted(problems)] == ["a.yaml:9:4", "a.yaml:9:30", "a.yaml:10:1", "b.yaml:1:1"]


def test_plain_data_carries_every_field() -> None:
    """`--json` gives a program all that a person sees."""
    data = Problem(Place("x.yaml", 2, 3), "m", "h", level="advice", rule="manual").to_dict()
    assert data == {
        "file": "x.yaml",
        "line": 2,
        "column": 3,
        "message": "m",
        "hint": "h",
        "level": "advice",
        "rule": "manual",
    }
