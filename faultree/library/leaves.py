"""Writes single values so that they read back as they were: on one line, as a wrapped text, or in quotes."""

from __future__ import annotations

import re

from faultree.library.commented import Leaf

WIDTH = 120
"""Longest line that is left as it is, where a line can be broken."""
WRAP = 100
"""Longest line of a text that is wrapped anew."""

_SPACE = re.compile(r"(?<=\S) (?=\S)")
# What a text block can hold as it stands: no controls, and no breaks but the line feed.
_PLAIN_SIGHT = re.compile("[\t\n\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]*")
_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t"}


def on_one_line(leaf: Leaf) -> str:
    r"""A value on one line, in the style in which it is written where that can be.

    >>> on_one_line(Leaf("a b", "a\n  b")), on_one_line(Leaf("a\nb", "|-\n  a\n  b", "|"))
    ('a b', '"a\\nb"')
    """
    if leaf.style not in ("|", ">") and "\n" not in leaf.raw:
        return leaf.raw
    if leaf.style == "" and "\n" not in leaf.text:
        return leaf.text
    if leaf.style == "'" and _in_sight(leaf.text) and "\n" not in leaf.text:
        return "'" + leaf.text.replace("'", "''") + "'"
    return '"' + "".join(map(_escaped, leaf.text)) + '"'


def _escaped(sign: str) -> str:
    if sign in _ESCAPES:
        return _ESCAPES[sign]
    if _in_sight(sign):
        return sign
    return f"\\U{ord(sign):08X}" if ord(sign) > 0xFFFF else f"\\u{ord(sign):04X}"


def _in_sight(text: str) -> bool:
    return _PLAIN_SIGHT.fullmatch(text) is not None


def lines(leaf: Leaf, indent: int, start: int) -> list[str]:
    r"""A value on one or several lines; the first begins in column `start`, the others are indented.

    A text block keeps its lines. What does not fit on one line is wrapped as a text block, if it can be.

    >>> lines(Leaf("a\nb", "|-\n a\n b", "|"), 4, 9)
    ['|-', '    a', '    b']
    >>> lines(Leaf("so " * 40 + "on", "so " * 40 + "on"), 2, 9)[0]
    '>-'
    """
    if leaf.style in ("|", ">"):
        return _block(leaf, indent)
    whole = on_one_line(leaf)
    if "\n" in leaf.text and _literal(leaf.text):
        return _as_literal(leaf.text, indent)
    if start + len(whole) > WIDTH and _wraps(leaf.text):
        return _wrapped(leaf.text, indent)
    return [whole]


def _block(leaf: Leaf, indent: int) -> list[str]:
    """A text block as it stands, with its lines indented anew."""
    if leaf.style == "|" and _literal(leaf.text):
        return _as_literal(leaf.text, indent)
    header, *body = leaf.raw.removesuffix("\n").split("\n")
    if leaf.style == ">" and leaf.text.strip() and not re.search("[0-9]", header.partition("#")[0]):
        kept = _indented(body, indent)
        if all(len(line) <= WIDTH for line in kept) or not _wraps(leaf.text.rstrip("\n")):
            return [f">{_ending(leaf.text)}", *kept]
        return _wrapped(leaf.text, indent)
    return [on_one_line(leaf)]


def _indented(body: list[str], indent: int) -> list[str]:
    """The lines of a text block, moved; their own indentation is that of the first that holds something."""
    first = next(line for line in body if line.strip(" "))
    own = len(first) - len(first.lstrip(" "))
    return [" " * indent + line[own:] if line[own:] else "" for line in body]


def _as_literal(text: str, indent: int) -> list[str]:
    ending = _ending(text)
    body = text if ending == "-" else text[:-1]
    return [f"|{ending}", *(" " * indent + line if line else "" for line in body.split("\n"))]


def _ending(text: str) -> str:
    """The sign behind `|` or `>` that keeps the line breaks at the end of a text."""
    if not text.endswith("\n"):
        return "-"
    return "+" if text.endswith("\n\n") else ""


def _literal(text: str) -> bool:
    """Whether a text can stand in a block line by line: it is in plain sight, and its first line is not indented."""
    first = text.lstrip("\n")[:1]
    return bool(first) and not first.isspace() and _in_sight(text)


def _wraps(text: str) -> bool:
    """Whether a text can be wrapped at its spaces without a change."""
    return _in_sight(text) and "\n" not in text and text == text.strip() and _SPACE.search(text) is not None


def _wrapped(text: str, indent: int) -> list[str]:
    """A text of one paragraph as a folded block."""
    found: list[str] = []
    for word in _SPACE.split(text.rstrip("\n")):
        if found and indent + len(found[-1]) + 1 + len(word) <= WRAP:
            found[-1] += f" {word}"
        else:
            found.append(word)
    return [f">{_ending(text)}", *(" " * indent + line for line in found)]
