"""The reference for authors describes every key of the format, and shows each in an example that loads."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator

import pytest

from faultree.library import kinds, marked, model, shapes
from faultree.library.findings import Findings
from faultree.library.load import MOST_PROBLEMS
from faultree.library.marked import Array, Node, Scalar, Table, parse
from faultree.library.operands import GATES
from faultree.library.records import Listed, One, Records, Shape
from faultree.library.whole import MOST_SETTINGS
from tests.house.source import ROOT

PAGE = (ROOT / "docs" / "format.md").read_text(encoding="utf-8")
EXAMPLES = [parse(block, "a.yaml").root for block in re.findall(r"```yaml\n(.*?)```", PAGE, re.DOTALL)]

SECTIONS = [name for name, spec in shapes.FILE.fields.items() if isinstance(spec.kind, Records | Listed)]


def _shape(section: str) -> Shape:
    kind = shapes.FILE.fields[section].kind
    assert isinstance(kind, Records | Listed)
    return kind.shape


def _part(heading: str) -> str:
    """The text below a heading, up to the next one of its level."""
    found = re.search(rf"^## {re.escape(heading)}$(.*?)(?=^## |\Z)", PAGE, re.MULTILINE | re.DOTALL)
    assert found is not None, f"no heading '{heading}'"
    return found[1]


def _rows(text: str) -> dict[str, str]:
    """The rows of its tables by each key that their first cell names."""
    rows = re.findall(r"^\| (`.+?) \|(.*)\|$", text, re.MULTILINE)
    return {key: rest for cell, rest in rows for key in re.findall(r"`(\w+)`", cell)}


@pytest.mark.parametrize("section", SECTIONS)
def test_the_tables_name_every_key_in_order(section: str) -> None:
    """No key is missing, and none is described that is not there."""
    shape = _shape(section)
    named = [key for key in _rows(_part(f"`{section}`")) if section != "examples" or key not in shapes.EXPECT.fields]
    expected = [key for key in shape.fields if key not in GATES]
    assert [key for key in named if key not in GATES] == expected
    assert set(GATES) & set(named) == set(GATES) & set(shape.fields)


def test_the_other_tables() -> None:
    assert list(_rows(_part("The head of a file"))) == list(shapes.FILE.fields)[:5]
    assert [key for key in _rows(_part("`examples`")) if key in shapes.EXPECT.fields] == list(shapes.EXPECT.fields)
    assert re.findall(r"^\| `(\w+): ", _part("Operands and gates"), re.MULTILINE) == list(GATES)


def test_the_sections_stand_in_the_order_of_the_format() -> None:
    found = re.findall(r"^## `(\w+)`$", PAGE, re.MULTILINE)
    assert found == [name for name in shapes.FILE.fields if name in (*SECTIONS, "likelihoods")]


def _used(shape: Shape, node: Node | None) -> Iterator[tuple[str, str]]:
    """Every key that an example gives a value, with the noun of its shape."""
    assert isinstance(node, Table)
    for key, value in node.pairs:
        spec = shape.fields.get(key.text)
        yield shape.noun, key.text if spec is not None else "x-"
        kind = spec.kind if spec is not None else None
        if isinstance(kind, One):
            yield from _used(kind.shape, value)
        elif isinstance(kind, Records):
            assert isinstance(value, Table)
            for _, inner in value.pairs:
                yield from _used(kind.shape, inner)
        elif isinstance(kind, Listed):
            assert isinstance(value, Array)
            for inner in value.entries:
                yield from _used(kind.shape, inner)


def test_an_example_shows_every_key() -> None:
    """Each loads, as the tests of documents see to; together they leave nothing out."""
    used = {pair for root in EXAMPLES for pair in _used(shapes.FILE, root)}
    wanted = {(shape.noun, key) for shape in vars(shapes).values() if isinstance(shape, Shape) for key in shape.fields}
    assert wanted - used == set()
    assert ("tree file", "x-") in used


def test_the_defaults_and_limits_are_the_real_ones() -> None:
    """A page that tells an old number is worse than none."""
    for section, entry in (("items", model.Item), ("causes", model.Cause), ("access", model.Access)):
        minutes = next(one.default for one in dataclasses.fields(entry) if one.name == "minutes")
        assert f"| {minutes:g} |" in _rows(_part(f"`{section}`"))["minutes"]
    check = {one.name: one.default for one in dataclasses.fields(model.Check)}
    assert f"| {check['minutes']:g} |" in _rows(_part("`checks`"))["minutes"]
    assert f"| `{check['by']}` |" in _rows(_part("`checks`"))["by"]
    retest = next(one.default for one in dataclasses.fields(model.Symptom) if one.name == "retest")
    assert f"| {retest:g} |" in _rows(_part("`symptoms`"))["retest"]
    limits = _part("Limits")
    for limit in (marked.MAX_BYTES, marked.MAX_NODES, marked.MAX_DEPTH, MOST_SETTINGS, MOST_PROBLEMS):
        assert re.search(rf"(?<![\d,]){limit:,}(?![\d,])", limits), limit
    weights = ", ".join(f"{weight:g}" for weight in list(model.BANDS.values())[:-1])
    assert f"{weights} and {list(model.BANDS.values())[-1]:g}" in _part("`likelihoods`")


def test_the_words_are_named() -> None:
    for section in SECTIONS:
        for key, spec in _shape(section).fields.items():
            if isinstance(spec.kind, kinds.Word):
                row = _rows(_part(f"`{section}`"))[key]
                assert all(f"`{word}`" in row for word in spec.kind.options), key


def test_numbers_and_truths_read_as_the_page_says() -> None:
    """012 is 12, and yes comes in many forms."""
    root = parse("a: 012\nb: 1e-4", "a.yaml").root
    assert isinstance(root, Table)
    reader = kinds.Number()
    found = Findings("a.yaml", "a")
    assert [reader.read(value, "n", found) for _, value in root.pairs] == [12.0, 1e-4]
    for word in ("yes", "NO", "On", "off", "TRUE", "false"):
        assert isinstance(kinds.Flag().read(Scalar(word, False, 1, 1), "f", found), bool)
    assert found.problems == []
