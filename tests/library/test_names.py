"""Every name leads somewhere, across files too, and no name is given twice."""

from __future__ import annotations

import pytest

from faultree.base.problem import Problem
from faultree.library.load import read_texts
from tests.library.texts import HEAD, Broken, broken, loaded, problems

CAUSE = "causes:\n  worn: {title: C, probability: 0.1}\n"


@pytest.mark.parametrize("mistake", broken("names"))
def test_every_mistake_is_named_with_place_and_remedy(mistake: Broken) -> None:
    """The exact messages are what an author works with."""
    assert problems(mistake.fragment) == mistake.messages


def test_every_kind_of_reference_may_lead_into_another_file() -> None:
    library = loaded(
        "causes:\n  worn: {title: W, probability: 0.1, item: b/pump}\n"
        "situations:\n  taxi: {title: X, extends: b/ground, sets: {b/rolling: yes}}\n"
        "events:\n  lost: {title: L, any: [b/low, worn]}\n"
        "checks:\n  look: {title: L, reads: b/low, situation: b/ground, access: [b/bay], cautions: [b/hot]}\n"
        "examples:\n  - title: E\n    symptom: [b/down]\n    answers: {b/ask: yes}\n"
        "    expect: {first: b/leak, cleared: [a/worn]}\n",
        "conditions:\n  rolling: {title: R}\n"
        "situations:\n  ground: {title: G, cautions: [hot]}\n"
        "items:\n  pump: {title: P}\n"
        "causes:\n  leak: {title: L, probability: 0.1}\n"
        "events:\n  low: {title: L, any: [leak]}\n"
        "access:\n  bay: {title: B}\n"
        "cautions:\n  hot: {text: H}\n"
        "checks:\n  ask: {title: A, reads: a/lost}\n"
        "symptoms:\n  down: {title: D, sees: {a/lost: yes, low: no}}\n",
    )
    assert library.causes["a/worn"].item == "b/pump"
    assert library.situations["a/taxi"].sets == {"b/rolling": True}
    assert library.situations["a/taxi"].cautions == ("b/hot",)
    assert library.checks["a/look"].reads == "b/low"
    assert library.checks["a/look"].access == ("b/bay",)
    assert library.symptoms["b/down"].sees == (("a/lost", True), ("b/low", False))
    assert library.examples[0].answers == (("b/ask", "yes"),)
    assert library.examples[0].expect.cleared == ("a/worn",)


def test_a_name_in_the_wrong_file() -> None:
    """The file that has the name is guessed, else a near file, else a near name in the file meant."""
    assert problems("events:\n  e: {title: E, any: [worn, b/wurn, bb/worm, elsewhere/x, b/zzz]}\n", CAUSE) == [
        "a.yaml:4:23: unknown id 'worn'; did you mean 'b/worn'?",
        "a.yaml:4:29: unknown id 'b/wurn'; did you mean 'b/worn'?",
        "a.yaml:4:37: unknown file 'bb' in 'bb/worm'; did you mean 'b'?",
        "a.yaml:4:46: unknown file 'elsewhere' in 'elsewhere/x'; there is no 'elsewhere.yaml' beside this file",
        "a.yaml:4:59: unknown id 'b/zzz'; define it under conditions, causes, signals or events, or correct the name",
    ]


@pytest.mark.parametrize("other", [b"\xff", "items: [", b"", b"- a"])
def test_nothing_is_said_of_a_file_that_could_not_be_read(other: str | bytes) -> None:
    """What stands in the part that was not read, nobody knows; only the part itself is reported."""
    found = problems(f"{CAUSE}events:\n  e: {{title: E, any: [b/x, worn, zzz]}}\n", other)
    assert found[0].startswith("a.yaml:6:34: unknown id 'zzz'")
    assert all(message.startswith("b.yaml") for message in found[1:])
    assert len(found) > 1


def test_two_files_with_one_id() -> None:
    reading = read_texts({"a.yaml": HEAD, "a.yml": HEAD, "b.YAML": HEAD})
    assert [str(problem) for problem in reading.problems] == [
        "a.yml: the id 'a' is that of a.yaml already; rename or remove one of the two files"
    ]


def test_the_same_id_may_stand_in_two_files_and_in_sections_that_do_not_share_their_names() -> None:
    text = "items:\n  x: {title: X}\naccess:\n  x: {title: X}\ncauses:\n  x: {title: X, probability: 0.1, item: x}\n"
    assert list(loaded(text, text).causes) == ["a/x", "b/x"]


def test_problems_of_references_carry_their_rule() -> None:
    """Tools tell the kinds of problem apart by `rule`, not by the words."""
    (problem,) = read_texts({"a.yaml": f"{HEAD}events:\n  e: {{title: E, not: zzz}}\n"}).problems
    assert isinstance(problem, Problem)
    assert (problem.rule, problem.level) == ("reference", "error")
