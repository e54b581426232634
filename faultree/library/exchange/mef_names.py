"""Names of the Open-PSA Model Exchange Format 2.0d, and how they and the ids of tree files become one another."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from faultree.library.starter import id_from
from faultree.library.values import is_id

NAME_FORM = "a name begins with a letter and holds letters, digits, '_' and single '-', none of them last"


def is_name(text: str) -> bool:
    r"""Whether a text is an Identifier of the format's schema: NCName with the pattern `[^\-.]+(-[^\-.]+)*`.

    >>> is_name("G1"), is_name("left-sensor"), is_name("é_2")
    (True, True, True)
    >>> is_name("a--b"), is_name("a-"), is_name("a.b"), is_name("1a"), is_name("a b"), is_name("")
    (False, False, False, False, False, False)
    """
    head = text[:1]
    return (head.isalpha() or head == "_") and all(map(_is_word, text.split("-")))


def is_path(text: str) -> bool:
    """Whether a text is a reference: a name, behind the names of its containers with dots between.

    >>> is_path("FT.A.BE1"), is_path("FT..BE1")
    (True, False)
    """
    return all(map(is_name, text.split(".")))


def _is_word(part: str) -> bool:
    return part != "" and all(sign.isalnum() or sign == "_" or unicodedata.category(sign)[0] == "M" for sign in part)


def name_from(text: str) -> str:
    """The name nearest to an id (or to anything else that holds a letter); a legal one stays as it is.

    >>> name_from("left-sensor"), name_from("a--b-"), name_from("flaps/lever")
    ('left-sensor', 'a-b', 'flaps-lever')
    """
    if is_name(text):
        return text
    parts = "".join(sign if _is_word(sign) else "-" for sign in text).split("-")
    joined = "-".join(part for part in parts if part)
    return joined if is_name(joined) else f"x-{joined}".rstrip("-")


def new_id(text: str, kind: str) -> str:
    """An id of a tree file from any text: a legal one stays; where none can be made of it, `kind` begins it.

    >>> new_id("G1", "gate"), new_id("Öl dünn", "event"), new_id("漏れ", "event"), new_id("2 of 3", "gate")
    ('G1', 'ol-dunn', 'event', 'gate-2-of-3')
    """
    if is_id(text):
        return text
    try:
        return id_from(text)
    except ValueError:
        return id_from(f"{kind} {text}")


class Taken:
    """Hands out names that are still free; those promised from the start go to nobody else.

    >>> taken = Taken(["a", "a-2"])
    >>> taken.free("a"), taken.free("a"), taken.free("b")
    ('a-3', 'a-4', 'b')
    """

    def __init__(self, promised: Iterable[str] = ()) -> None:
        self._taken = set(promised)
        self._next: dict[str, int] = {}

    def free(self, wanted: str) -> str:
        """The name wanted, or the same with the first number behind it that makes it free."""
        found, number = wanted, self._next.get(wanted, 2)
        while found in self._taken:
            found, number = f"{wanted}-{number}", number + 1
        self._next[wanted] = number
        self._taken.add(found)
        return found
