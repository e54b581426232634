"""XML is read without entities, without anything outside the file, within limits, and each element knows its place."""

from __future__ import annotations

import time

import pytest

from faultree.base.problem import Place
from faultree.library.exchange import elements as module
from faultree.library.exchange.elements import elements

BOMB = """<!DOCTYPE opsa-mef [
<!ENTITY a "aaaaaaaaaa">
<!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">
<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">
]>
<opsa-mef>&c;</opsa-mef>"""


def _problem(content: bytes | str) -> str:
    marked = elements(content.encode() if isinstance(content, str) else content, "f.xml")
    assert marked.root is None
    assert marked.problem is not None
    return str(marked.problem)


@pytest.mark.parametrize(
    ("text", "line", "message"),
    [
        (BOMB, "2", "the entity 'a' is declared here, and no entities are read"),
        ('<!DOCTYPE a [<!ENTITY e SYSTEM "file:///etc/passwd">]><a>&e;</a>', "1", "the entity 'e' is declared"),
        ('<!DOCTYPE a [<!ENTITY % p SYSTEM "http://x/y"> %p;]><a/>', "1", "the entity 'p' is declared here"),
        ('<!DOCTYPE a SYSTEM "http://x/a.dtd"><a/>', "1", "the DOCTYPE points to 'http://x/a.dtd'"),
        ('<!DOCTYPE a PUBLIC "-//x" "a.dtd"><a/>', "1", "the DOCTYPE points to 'a.dtd'"),
        ('<!DOCTYPE a [<!ATTLIST a b CDATA "x">]><a/>', "1", "the DOCTYPE declares the attribute 'b' of 'a'"),
        ("<!DOCTYPE a [ %p; ]><a>&e;</a>", "1", "the entity 'e' is declared nowhere"),
        ("<!DOCTYPE a><a>&e;</a>", "1", "this is not well-formed XML (undefined entity)"),
        ("<a>\n<b></a>", "2", "this is not well-formed XML (mismatched tag)"),
        ("", "1", "this is not well-formed XML (no element found)"),
        ("<a/><a/>", "1", "this is not well-formed XML (junk after document element)"),
        ("<a>\x00</a>", "1", "this is not well-formed XML (not well-formed (invalid token))"),
        ('<?xml version="1.0" encoding="nope"?><a/>', "1", "the encoding that the file names is not read"),
        ('<?xml version="1.0" encoding="shift_jis"?><a/>', "1", "the encoding that the file names is not read"),
    ],
    ids=lambda value: value[:20] if isinstance(value, str) else None,
)
def test_what_is_refused_has_one_problem_with_its_place(text: str, line: str, message: str) -> None:
    """The column within a declaration depends on the parser's version."""
    file, at, column, said = _problem(text).split(":", 3)
    assert (file, at) == ("f.xml", line)
    assert int(column) >= 1
    assert said.startswith(f" {message}")


def test_no_external_entity_is_ever_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is opened besides the text: not by the parser, and not by anything that it calls."""

    def forbidden(*_: object, **__: object) -> None:
        raise AssertionError("something was opened")

    monkeypatch.setattr("builtins.open", forbidden)
    monkeypatch.setattr("socket.socket.connect", forbidden)
    assert "entity" in _problem('<!DOCTYPE a [<!ENTITY e SYSTEM "http://localhost/x">]><a>&e;</a>')


def test_limits_of_size_depth_and_count_end_the_reading_at_once() -> None:
    """A file of 10 MB of any kind is read or refused soon, also on a busy machine."""
    started = time.perf_counter()
    assert "more than 10,000,000 bytes" in _problem(b"<a>" + b" " * module.MAX_BYTES)
    assert "nested more than 60 levels deep" in _problem("<a>" * 3_000_000)
    assert "more than 250,000 elements" in _problem("<a>" + "<b/>" * 2_400_000 + "</a>")
    marked = elements(b"<a>" + b"x" * 9_900_000 + b"</a>", "f.xml")
    assert marked.root is not None
    assert len(marked.root.text) == 9_900_000
    assert time.perf_counter() - started < 60


def test_a_bare_doctype_comments_and_instructions_are_accepted() -> None:
    marked = elements(
        b"<?xml version='1.0'?><!DOCTYPE opsa-mef><!-- c --><?p q?>\n<opsa-mef><!-- d --></opsa-mef>", "f.xml"
    )
    assert marked.root is not None
    assert (marked.root.tag, marked.root.text, marked.root.at) == ("opsa-mef", "", Place("f.xml", 2, 1))


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "iso-8859-1", "cp1252"])
def test_encodings_that_the_file_names_are_read(encoding: str) -> None:
    name = "utf-8" if encoding == "utf-8-sig" else encoding
    text = f'<?xml version="1.0" encoding="{name}"?>\n<a b="é">ü</a>'
    root = elements(text.encode(encoding), "f.xml").root
    assert root is not None
    assert (root.attributes["b"], root.text) == ("é", "ü")


def test_children_are_found_and_walked_in_order() -> None:
    root = elements(b"<a><b><c/></b><d/><b/></a>", "f.xml").root
    assert root is not None
    assert [one.tag for one in root.walk()] == ["a", "b", "c", "d", "b"]
    assert root.first("b") is root.children[0]
    assert root.first("x") is None
