"""Reads the bytes of an XML file into elements that know their place; no entity is expanded, nothing else is opened.

The parser is expat, in the standard library and kept up with every Python. It is used by its events, because
only they tell of the declarations of a DOCTYPE before anything is made of them, and where each element stands.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple
from xml.parsers import expat

from faultree.base.problem import Place, Problem
from faultree.library.values import shown

MAX_BYTES = 10_000_000
"""Largest file that is read."""
MAX_DEPTH = 60
"""Deepest nesting of elements that is read."""
MAX_ELEMENTS = 250_000
"""Most elements that are read from one file."""


@dataclass(frozen=True, slots=True)
class Element:
    """One element: its tag, attributes, children and the text between them, and where its tag begins."""

    tag: str
    attributes: Mapping[str, str]
    children: tuple[Element, ...]
    text: str
    at: Place

    def problem(self, message: str, hint: str) -> Problem:
        """A problem with this element."""
        return Problem(self.at, message, hint, rule="exchange")

    def first(self, tag: str) -> Element | None:
        """The first child with a tag, or None."""
        return next((child for child in self.children if child.tag == tag), None)

    def walk(self) -> Iterator[Element]:
        """This element and all below it, each before its children."""
        yield self
        for child in self.children:
            yield from child.walk()


class Marked(NamedTuple):
    """What reading gave: the root, or None and the problem for which reading stopped."""

    root: Element | None
    problem: Problem | None = None


def elements(content: bytes, file: str) -> Marked:
    """The elements of a file's bytes; `file` is what problems call it.

    >>> elements(b"<a><b c='1'/></a>", "f.xml").root.children[0].at
    Place(file='f.xml', line=1, column=4)
    >>> print(elements(b'<!DOCTYPE a [<!ENTITY e "x">]><a>&e;</a>', "f.xml").problem)
    f.xml:1:25: the entity 'e' is declared here, and no entities are read; write its content out where it is used
    """
    if len(content) > MAX_BYTES:
        message = f"the file has more than {MAX_BYTES:,} bytes, and no more are read"
        return Marked(None, Problem(Place(file), message, "split it into several models", rule="exchange"))
    return _Builder(file).run(content)


@dataclass(slots=True)
class _Open:
    """An element that is still open."""

    tag: str
    attributes: Mapping[str, str]
    at: Place
    children: list[Element] = field(default_factory=list)
    texts: list[str] = field(default_factory=list)


class _Stop(Exception):
    """Reading ends here; the problem is noted already."""


class _Builder:
    """Takes the parser's events of one file."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.stack: list[_Open] = []
        self.root: Element | None = None
        self.count = 0
        self.problem: Problem | None = None
        self.parser = expat.ParserCreate()
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self.start
        self.parser.EndElementHandler = self.end
        self.parser.CharacterDataHandler = self.characters
        self.parser.StartDoctypeDeclHandler = self.doctype
        self.parser.EntityDeclHandler = self.entity
        self.parser.AttlistDeclHandler = self.defaults
        self.parser.SkippedEntityHandler = self.skipped

    def run(self, content: bytes) -> Marked:
        try:
            self.parser.Parse(content, True)
        except _Stop:
            return Marked(None, self.problem)
        except expat.ExpatError as error:
            place = Place(self.file, error.lineno, error.offset + 1)
            message = f"this is not well-formed XML ({expat.ErrorString(error.code)})"
            return Marked(None, Problem(place, message, "correct it here, or save the file anew", rule="exchange"))
        except (ValueError, LookupError):
            message = "the encoding that the file names is not read"
            return Marked(None, Problem(Place(self.file, 1, 1), message, "save it as UTF-8", rule="exchange"))
        return Marked(self.root)

    def here(self) -> Place:
        return Place(self.file, self.parser.CurrentLineNumber, self.parser.CurrentColumnNumber + 1)

    def stop(self, message: str, hint: str) -> None:
        self.problem = Problem(self.here(), message, hint, rule="exchange")
        raise _Stop

    # ---- elements

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        self.count += 1
        if self.count > MAX_ELEMENTS:
            self.stop(f"more than {MAX_ELEMENTS:,} elements in one file", "split it into several models")
        if len(self.stack) >= MAX_DEPTH:
            self.stop(f"nested more than {MAX_DEPTH} levels deep", "give inner formulas gates of their own")
        self.stack.append(_Open(tag, attributes, self.here()))

    def end(self, tag: str) -> None:
        del tag
        done = self.stack.pop()
        found = Element(done.tag, done.attributes, tuple(done.children), "".join(done.texts), done.at)
        if self.stack:
            self.stack[-1].children.append(found)
        else:
            self.root = found

    def characters(self, text: str) -> None:
        self.stack[-1].texts.append(text)

    # ---- what is refused

    def doctype(self, name: str, system: str | None, public: str | None, inner: int) -> None:
        del name, inner
        if system or public:
            what = shown(system or public or "")
            self.stop(
                f"the DOCTYPE points to '{what}', and nothing outside the file is read", "write <!DOCTYPE opsa-mef>"
            )

    def entity(self, name: str, *rest: object) -> None:
        del rest
        message = f"the entity '{shown(name)}' is declared here, and no entities are read"
        self.stop(message, "write its content out where it is used")

    def defaults(self, element: str, attribute: str, *rest: object) -> None:
        del rest
        message = f"the DOCTYPE declares the attribute '{shown(attribute)}' of '{shown(element)}', which is not read"
        self.stop(message, "write the attribute out where it is meant, and <!DOCTYPE opsa-mef>")

    def skipped(self, name: str, parameter: bool) -> None:
        del parameter
        self.stop(f"the entity '{shown(name)}' is declared nowhere in the file", "write out what it stands for")
