"""The table of the format agrees with the model and says something of every field."""

from __future__ import annotations

import dataclasses

import pytest

from faultree.library import model, shapes
from faultree.library.records import Shape

PAIRS: list[tuple[Shape, type[model.Entry], set[str]]] = [
    (shapes.CONDITION, model.Condition, set()),
    (shapes.SITUATION, model.Situation, set()),
    (shapes.ITEM, model.Item, set()),
    (shapes.CAUSE, model.Cause, {"rate", "hours"}),
    (shapes.SIGNAL, model.Signal, set()),
    (shapes.EVENT, model.Event, {"all", "any", "not", "none", "at_least", "one_of"}),
    (shapes.ACCESS, model.Access, set()),
    (shapes.CAUTION, model.Caution, set()),
    (shapes.CHECK, model.Check, {"yes", "no"}),
    (shapes.SYMPTOM, model.Symptom, {"event"}),
]
"""Each shape, its entry of the model, and the keys that the model holds in another form."""


@pytest.mark.parametrize(("shape", "entry", "reshaped"), PAIRS, ids=[pair[0].noun for pair in PAIRS])
def test_every_key_reaches_the_model(shape: Shape, entry: type[model.Entry], reshaped: set[str]) -> None:
    """A field that is read and then dropped would be a promise broken."""
    assert set(shape.fields) - reshaped <= {one.name for one in dataclasses.fields(entry)}


def _all_shapes() -> list[Shape]:
    return [value for value in vars(shapes).values() if isinstance(value, Shape)]


@pytest.mark.parametrize("shape", _all_shapes(), ids=lambda shape: shape.noun)
def test_every_shape_and_field_is_described(shape: Shape) -> None:
    """Editors show these sentences as hover texts."""
    assert shape.doc.endswith(".")
    for name, spec in shape.fields.items():
        assert spec.doc.endswith("."), name
        assert spec.doc[0].isupper() or spec.doc.startswith(("P(", "`")), name


def test_every_section_is_a_field_of_a_file() -> None:
    assert set(shapes.NOUNS) <= set(shapes.FILE.fields)
    assert {section for sections in shapes.SECTIONS.values() for section in sections} == set(shapes.NOUNS)


def test_the_shapes_have_the_defaults_that_they_tell() -> None:
    """The sentences name defaults; the model sets them."""
    item = {one.name: one.default for one in dataclasses.fields(model.Item)}
    check = {one.name: one.default for one in dataclasses.fields(model.Check)}
    symptom = {one.name: one.default for one in dataclasses.fields(model.Symptom)}
    assert f"{item['minutes']:g} by default" in shapes.ITEM.fields["minutes"].doc
    assert f"{check['minutes']:g} by default" in shapes.CHECK.fields["minutes"].doc
    assert f"{check['by']} by default" in shapes.CHECK.fields["by"].doc
    assert f"{symptom['retest']:g} by default" in shapes.SYMPTOM.fields["retest"].doc
