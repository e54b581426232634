"""Reads single words of a file as numbers, yes or no, or an author's own data; no YAML guessing."""

from __future__ import annotations

import re

FLAGS = {"true": True, "yes": True, "on": True, "false": False, "no": False, "off": False}
"""What may be written for yes and no, in any case."""

NOTHING = frozenset({"", "~", "null", "Null", "NULL"})
"""What stands for "no value" when it is not in quotes."""

_NUMBER = re.compile(r"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]+)?")
_WHOLE = re.compile(r"[-+]?[0-9]{1,15}")
_CONTROL = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f"  # control characters, but for tab and line feed
    "\u2028-\u202e\u2066-\u2069"  # breaks of lines, and changes of the writing direction
    "\ud800-\udfff\ufeff\ufffe\uffff]"  # no characters at all
)
_ID = re.compile(r"[A-Za-z][A-Za-z0-9_-]*")


def number(text: str) -> float | None:
    """The number written, or None; only plain digits with a point and an exponent are numbers.

    Digits without end give infinity, never an error.

    >>> number("1e-3"), number("012"), number("1:30"), number(".inf"), number("1_000")
    (0.001, 12.0, None, None, None)
    """
    return float(text) if _NUMBER.fullmatch(text) else None


def whole(text: str) -> int | None:
    """The whole number written, of at most 15 digits, or None.

    >>> whole("3"), whole("3.0"), whole("9" * 5000)
    (3, None, None)
    """
    return int(text) if _WHOLE.fullmatch(text) else None


def flag(text: str) -> bool | None:
    """Yes or no, or None where it is neither.

    >>> flag("Off"), flag("true"), flag("1")
    (False, True, None)
    """
    return FLAGS.get(text.lower())


def own(text: str, plain: bool) -> str | float | int | bool | None:
    """A value below an author's own `x-` key: true, false, null and numbers; all else is text.

    >>> own("yes", True), own("true", True), own("12", True), own("12", False), own("", True)
    ('yes', True, 12, '12', None)
    """
    if not plain:
        return text
    if text in NOTHING:
        return None
    if text in ("true", "false"):
        return text == "true"
    exact = whole(text)
    if exact is not None:
        return exact
    value = number(text)
    return text if value is None else value


def is_id(text: str) -> bool:
    """Whether a text has the form of an id without a file part.

    >>> is_id("left-sensor"), is_id("2nd"), is_id("a b"), is_id("a/b")
    (True, False, False, False)
    """
    return _ID.fullmatch(text) is not None


def control(text: str) -> str | None:
    """The first character that could disturb a screen or hide what is written, or None."""
    found = _CONTROL.search(text)
    return None if found is None else found.group()


def shown(text: str, most: int = 40) -> str:
    r"""A value as it is shown within a message: on one line, cut short, nothing that disturbs.

    >>> shown("a\nb"), shown("x" * 50, 8)
    ('a b', 'xxxxx...')
    """
    short = text if len(text) <= most else f"{text[: most - 3]}..."
    return "".join(_visible(character) for character in short)


def _visible(character: str) -> str:
    if character in "\n\t":
        return " "
    return f"\\u{ord(character):04x}" if _CONTROL.match(character) else character
