"""A tree file as an editor sees it: YAML 1.2, held against the schema, with the lines that it underlines."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date
from functools import cache
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError
from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError

from faultree.library.marked import Array, Node, Scalar, Table, parse
from faultree.library.schema import schema


@cache
def validator() -> Draft202012Validator:
    """The schema, ready to check."""
    return Draft202012Validator(schema())


def underlined(text: str) -> set[int]:
    """The lines in which an editor finds something; line 0 where the text is no YAML."""
    try:
        data = plain(YAML(typ="safe", pure=True).load(text))
    except (YAMLError, TypeError):
        return {0}
    root = parse(text, "a.yaml").root
    assert root is not None
    return {line for error in validator().iter_errors(data) for line in _lines(error, root)}


def plain(value: Any) -> Any:
    """What JSON can hold: keys are texts, and so is a date, which YAML 1.2 does not know."""
    if isinstance(value, dict):
        return {str(key): plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    return value.isoformat() if isinstance(value, date) else value


def _lines(error: ValidationError, root: Node) -> Iterator[int]:
    """The line of a wrong value, or of each key that should not be there."""
    if error.validator != "additionalProperties":
        yield _find(root, list(error.absolute_path))
        return
    given: dict[str, Any] = error.instance  # type: ignore[assignment]  # only mappings have properties
    rules: dict[str, Any] = error.schema  # type: ignore[assignment]  # a boolean schema has no such rule
    patterns = rules.get("patternProperties", {})
    for key in given:
        if key not in rules.get("properties", {}) and not any(re.search(one, key) for one in patterns):
            yield _find(root, [*error.absolute_path, key])


def _find(node: Node, path: Sequence[str | int]) -> int:
    """The line on which the key (or list entry) at a path stands."""
    line = node.line
    for step in path:
        if isinstance(node, Table):
            key, node = next(pair for pair in node.pairs if pair[0].text == step)
            line = key.line
        else:
            assert isinstance(node, Array)
            assert isinstance(step, int)
            node = node.entries[step]
            line = node.line
    assert isinstance(node, Scalar | Array | Table)
    return line
