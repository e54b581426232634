"""Saved cases as files: YAML (or JSON where the name says so) that a colleague can read, and back."""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

import yaml

from faultree.base.errors import CaseError
from faultree.library.marked import Array, Node, Scalar, Table, parse
from faultree.library.values import own, shown

HEAD = (
    "# A saved case of faultree. Take it up again with: faultree walk --case FILE\n"
    "# The approved maintenance manual and a licensed engineer decide.\n"
)

MAX_BYTES = 5_000_000
"""Larger files are no saved cases, and are not read."""


class _Dumper(yaml.SafeDumper):
    """Writes every text so that it comes back as the same text."""


def _text(dumper: yaml.SafeDumper, value: str) -> yaml.ScalarNode:
    style = None if own(value, True) == value else "'"
    return dumper.represent_scalar("tag:yaml.org,2002:str", value, style=style)


_Dumper.add_representer(str, _text)


def dump(data: Mapping[str, object], name: str) -> str:
    """The text of a saved case: JSON where `name` ends in .json, else YAML.

    >>> print(dump({"answer": "no", "note": "1e3"}, "case.yaml").splitlines()[-1])
    note: '1e3'
    """
    if Path(name).suffix.lower() == ".json":
        return json.dumps(data, indent=2, ensure_ascii=False) + "\n"
    return HEAD + yaml.dump(data, Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=100)


def load(path: Path) -> dict[str, object]:
    """The data of a saved case; CaseError where it cannot be read, with the place of what is wrong."""
    try:
        if path.stat().st_size > MAX_BYTES:
            raise CaseError(f"{path} is too large for a saved case")
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise CaseError(f"{path} cannot be read: {error.strerror or error}") from error
    except UnicodeDecodeError as error:
        raise CaseError(f"{path} is no UTF-8 text, so it is no saved case") from error
    # JSON is read by the same reader: it is YAML as well.
    marked = parse(text, str(path))
    if marked.problems:
        raise CaseError(str(marked.problems[0]))
    if not isinstance(marked.root, Table):
        raise CaseError(f"{path} is no saved case; 'save' in a walk writes one")
    return {key.text: _plain(value) for key, value in marked.root.pairs}


def _plain(node: Node) -> Any:
    if isinstance(node, Scalar):
        return own(node.text, node.plain)
    if isinstance(node, Array):
        return [_plain(one) for one in node.entries]
    if isinstance(node, Table):
        return {key.text: _plain(value) for key, value in node.pairs}
    return None


def named(name: str) -> Path:
    """The path that a typed file name means; without an ending it is a YAML file. CaseError where it means none.

    >>> str(named("my-case"))
    'my-case.yaml'
    >>> named("..")
    Traceback (most recent call last):
    faultree.base.errors.CaseError: '..' is no name for a file
    """
    given = name.strip().strip("'\"")
    path = Path(given)
    if given.isprintable() and path.name not in ("", "..", "~") and not given.endswith(("/", "\\")):
        with suppress(RuntimeError):  # ~name of nobody
            path = path.expanduser()
            return path if path.suffix else path.with_name(f"{path.name}.yaml")
    raise CaseError(f"'{shown(given)}' is no name for a file")


def there(path: Path) -> bool:
    """Whether a file can be seen there; what cannot be looked at cannot be written either, and writing says why."""
    try:
        return path.exists()
    except OSError:
        return False
