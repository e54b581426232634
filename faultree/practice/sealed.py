"""An exercise as a file that does not show its answer to somebody who opens it.

What must not be read at a glance (hidden faults, whether the report is true, the seed) is packed, mixed with a
stream that is made from the open part, and written as letters; a check sum finds damage and edits of the open
part. That keeps a casual reader from the answer. It is no secret from somebody who runs this code: a class that
could be tempted should sit the exercise on a machine of the school.
"""

from __future__ import annotations

import base64
import hashlib
import json
import zlib
from collections.abc import Mapping
from dataclasses import asdict

from faultree.base.errors import CaseError
from faultree.library.model import Library
from faultree.practice.scenario import Scenario

FORM = 1
"""The number of the sealed form."""

_HIDDEN = ("hidden", "there", "seed", "code")


def seal(scenario: Scenario) -> dict[str, object]:
    """The exercise as plain data: what a trainee may read in the open, the rest under `sealed`."""
    data = {name: _plain(value) for name, value in asdict(scenario).items()}
    opened = {name: value for name, value in data.items() if name not in _HIDDEN}
    packed = zlib.compress(json.dumps({name: data[name] for name in _HIDDEN}, sort_keys=True).encode())
    key = _key(opened)
    body = hashlib.sha256(key + packed).digest()[:8] + packed
    return {"exercise": FORM, **opened, "sealed": base64.b85encode(_mixed(body, key)).decode()}


def unseal(library: Library, data: Mapping[str, object]) -> Scenario:
    """The exercise that `seal` gave; CaseError where it is damaged, edited, or made with another library."""
    if data.get("exercise") != FORM:
        raise CaseError(f"this is no exercise file: 'exercise: {FORM}' is missing")
    if data.get("library") != library.digest:
        raise CaseError("this exercise was made with another version of the tree files; use that one")
    opened = {name: value for name, value in data.items() if name not in ("exercise", "sealed")}
    hidden = _opened(str(data.get("sealed", "")), _key(opened))
    try:
        made = Scenario(**{**opened, **hidden})  # type: ignore[arg-type]
        closed, faults = frozenset(map(str, made.closed)), frozenset(map(str, made.hidden))
        return Scenario(**{**opened, **hidden, "closed": closed, "hidden": faults})  # type: ignore[arg-type]
    except TypeError as error:
        raise CaseError(f"this exercise file does not read: {error}") from error


def _opened(text: str, key: bytes) -> dict[str, object]:
    damaged = CaseError("this exercise file was changed after it was sealed, or is damaged; ask for it again")
    try:
        body = _mixed(base64.b85decode(text), key)
        if hashlib.sha256(key + body[8:]).digest()[:8] != body[:8]:
            raise damaged
        found = json.loads(zlib.decompress(body[8:]))
    except (ValueError, zlib.error) as error:
        raise damaged from error
    if not isinstance(found, dict):
        raise damaged
    return found


def _key(opened: Mapping[str, object]) -> bytes:
    text = json.dumps(opened, sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).digest()  # a damaged file may hold half a sign


def _mixed(body: bytes, key: bytes) -> bytes:
    """The bytes with a stream made from the key; mixed twice they are as before."""
    stream = b"".join(hashlib.sha256(key + bytes([n & 255, n >> 8])).digest() for n in range(len(body) // 32 + 1))
    return bytes(one ^ other for one, other in zip(body, stream, strict=False))


def _plain(value: object) -> object:
    return sorted(value) if isinstance(value, frozenset) else value
