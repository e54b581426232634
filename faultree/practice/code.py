"""The code of an exercise: a short word that names library, symptom, level and seed, and catches slips of the pen."""

from __future__ import annotations

from typing import NamedTuple

from faultree.base.errors import CaseError
from faultree.library.model import Library

_LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Thirty-two signs without I, L, O and U, which are read as other signs or as words."""

_LOOKS_LIKE = str.maketrans({"I": "1", "L": "1", "O": "0"})

_LIBRARY, _SYMPTOM, _LEVEL, _SEED, _CHECK = 20, 11, 2, 22, 5
_SIZES = (_LIBRARY, _SYMPTOM, _LEVEL, _SEED, _CHECK)

SEEDS = 1 << _SEED
"""So many exercises of one symptom and level can be told apart."""


class Code(NamedTuple):
    """What a code says: the level (1 to 4), the symptom by its place in the library, and the seed."""

    symptom: str
    level: int
    seed: int


def write(library: Library, symptom: str, level: int, seed: int) -> str:
    """The code of an exercise, three groups of four signs."""
    place = sorted(library.symptoms).index(symptom)
    if place >= 1 << _SYMPTOM:
        raise CaseError(f"codes reach to {1 << _SYMPTOM} symptoms; this library has more")
    parts = (_version(library), place, level - 1, seed % SEEDS)
    value = 0
    for part, size in zip(parts, _SIZES, strict=False):
        value = value << size | part
    value = value << _CHECK | _sum(value)
    signs = [_LETTERS[value >> shift & 31] for shift in range(55, -1, -5)]
    return "-".join("".join(signs[start : start + 4]) for start in (0, 4, 8))


def read(library: Library, text: str) -> Code:
    """What a code says, for this library; raises CaseError that tells what is wrong with it."""
    signs = text.upper().translate(_LOOKS_LIKE).replace("-", "").replace(" ", "")
    if len(signs) != 12 or any(sign not in _LETTERS for sign in signs):
        alike = f"; one looks like {write(library, min(library.symptoms), 1, 1)}" if library.symptoms else ""
        raise CaseError(f"'{text}' is no exercise code{alike}")
    value = 0
    for sign in signs:
        value = value << 5 | _LETTERS.index(sign)
    parts = []
    for size in reversed(_SIZES):
        parts.append(value & ((1 << size) - 1))
        value >>= size
    check, seed, level, place, version = parts
    if check != _sum(((version << _SYMPTOM | place) << _LEVEL | level) << _SEED | seed):
        raise CaseError(f"a sign of the code '{text}' is wrong; compare it with the original")
    if version != _version(library):
        raise CaseError(
            f"the code '{text}' belongs to another version of the tree files; "
            "with this one it would set a different exercise, so use the library it was made with"
        )
    names = sorted(library.symptoms)
    if place >= len(names):
        raise CaseError(f"the code '{text}' names a symptom that this library does not hold")
    return Code(names[place], level + 1, seed)


def _version(library: Library) -> int:
    """The first bits of the library's digest: another text, another number (but for one in a million)."""
    return int(library.digest[:5] or "0", 16)


def _sum(value: int) -> int:
    """The last sign: the others, each times its place, modulo 31; it changes with a sign or a swap of neighbours."""
    signs = [value >> shift & 31 for shift in range(0, 55, 5)]
    return sum(place * sign for place, sign in enumerate(signs, 1)) % 31
