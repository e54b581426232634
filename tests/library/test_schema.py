"""The schema accepts what the reader accepts, and refuses each broken shape that a schema can see."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from faultree.library import shapes
from faultree.library.model import BANDS
from faultree.library.operands import GATES
from faultree.library.records import Shape
from faultree.library.schema import DIALECT, schema
from tests.house.source import ROOT, name
from tests.library.editor import underlined
from tests.library.texts import HEAD, Broken, broken, problems
from tests.oracles.random_libraries import random_library

FULL = Path(__file__).with_name("full.yaml")

LEFT_TO_LINT: dict[str, tuple[set[int], str]] = {
    "what is no probability": ({7}, "an editor takes .nan for a number, and finds it within every limit"),
    "named twice": ({6}, "that c and a/c are one"),
    "settings": ({8}, "that c and a/c are one"),
    "at_least": ({7}, "a count is not compared with the length of a list"),
    "otherwise not last": ({6}, "the keys of a mapping have no order"),
    "one band above the one before": ({3}, "values are not compared with each other"),
    "one band below the one after": ({3}, "values are not compared with each other"),
}
"""The broken shapes that only the reader sees, with their lines, and why the schema cannot."""

HARMLESS_YAML = {"a key that is no word"}
"""What is sound YAML, but no tree file; it stands where a file may hold anything."""


@pytest.mark.parametrize("path", [*sorted((ROOT / "trees").glob("*.yaml")), FULL], ids=name)
def test_the_schema_accepts_the_whole_library(path: Path) -> None:
    assert underlined(path.read_text(encoding="utf-8")) == set()


@pytest.mark.parametrize("seed", range(12))
def test_the_schema_accepts_random_libraries(seed: int) -> None:
    """They use every construct of the format, and the reader accepts them."""
    for text in random_library(random.Random(seed)).texts.values():
        assert underlined(text) == set(), text


@pytest.mark.parametrize("case", [*broken("kinds"), *broken("operands"), *broken("records"), *broken("rules")])
def test_each_broken_shape_is_underlined_where_lint_finds_it(case: Broken, request: pytest.FixtureRequest) -> None:
    """On every line with a mistake of shape, but for those that are left to lint."""
    left, _ = LEFT_TO_LINT.get(request.node.callspec.id, (set(), ""))
    found = underlined(HEAD + case.fragment)
    assert found == {0} or _lines(case) - found == left


def _lines(case: Broken) -> set[int]:
    return {int(found[1]) for message in case.messages if (found := re.match(r"a\.yaml:(\d+):", message))}


def test_nothing_is_left_to_lint_that_is_not_tested() -> None:
    names = {case.id for table in ("kinds", "operands", "rules") for case in broken(table)}
    assert set(LEFT_TO_LINT) <= names


@pytest.mark.parametrize("case", broken("syntax"))
def test_what_is_no_yaml_is_none_to_an_editor(case: Broken, request: pytest.FixtureRequest) -> None:
    assert bool(underlined(HEAD + case.fragment)) != (request.node.callspec.id in HARMLESS_YAML)


@pytest.mark.parametrize("case", [*broken("names"), *broken("whole")])
def test_where_a_name_leads_is_left_to_lint(case: Broken) -> None:
    """A schema sees one file and no meaning; a false alarm there would teach authors to look away."""
    assert underlined(HEAD + case.fragment) == set()


@pytest.mark.parametrize(
    "text",
    [
        "summary: 27\n",
        "chapter: yes\n",
        "summary: 2020-01-01\n",
        "conditions:\n  c: {title: C, usually: Off}\n  d: {title: D, usually: 'TRUE'}\n",
        "items:\ncauses: ~\nexamples:\n",
        "items:\n  i: {title: ' I\t', minutes: 012, x-a: {b: [c]}}\n",
        "causes:\n  c: {title: C, probability: .5e-1}\n",
        "x-anything: [1, {a: ~}]\n",
    ],
)
def test_unusual_writing_that_the_reader_accepts(text: str) -> None:
    """What it takes for a text, a truth or a number is no mistake in an editor either."""
    assert problems(text) == []
    assert underlined(HEAD + text) == set()


def test_the_dialect_and_the_hover_texts() -> None:
    """An editor shows title and description of each key; the schema is one of the dialect that it names."""
    made = schema()
    assert made["$schema"] == DIALECT == Draft202012Validator.META_SCHEMA["$id"]
    Draft202012Validator.check_schema(made)
    for shape in (value for value in vars(shapes).values() if isinstance(value, Shape)):
        described = made if shape is shapes.FILE else made["$defs"][shape.noun.replace(" ", "-")]
        assert list(described["properties"]) == list(shape.fields)
        assert described["description"] == shape.doc
        for key, spec in shape.fields.items():
            assert described["properties"][key]["title"] == f"{shape.noun}: {key}"
            assert described["properties"][key]["description"] == spec.doc


def test_the_words_and_limits_of_the_format_are_offered() -> None:
    """Completion offers what may be written."""
    made = schema()["$defs"]
    assert made["cause"]["properties"]["likelihood"]["enum"] == list(BANDS)
    assert made["caution"]["properties"]["level"]["enum"] == ["warning", "caution", "note"]
    probability = made["cause"]["properties"]["probability"]
    assert (probability["exclusiveMinimum"], probability["exclusiveMaximum"]) == (0, 1)
    assert list(made["gate"]["properties"]) == list(GATES)
