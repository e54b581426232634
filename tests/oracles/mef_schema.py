"""Whether an XML text is a model of the Open-PSA format, by the rules of its schema for what we write.

Source: the format's RELAX NG schema (compact syntax, read), as regular expressions over the tags of children.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

NAME = re.compile(r"(?=[^\W\d])[^\-.\s:/]+(-[^\-.\s:/]+)*")
REFERENCES = "gate|house-event|basic-event|event"
FORMULA = f"(?:{REFERENCES}|constant|and|or|not|xor|iff|nand|nor|atleast|cardinality|imply) "
EXPRESSION = "(?:bool|int|float|parameter|system-mission-time|exponential|GLM|Weibull|neg|add|sub|mul|div) "
HEAD = "(label )?(attributes )?"
DECLARED = "((define-gate|define-house-event|define-basic-event|define-component|define-parameter) )*"

CHILDREN = {
    "opsa-mef": f"{HEAD}((model-data|define-fault-tree) )*",
    "define-fault-tree": HEAD + DECLARED,
    "define-component": HEAD + DECLARED,
    "model-data": "((define-house-event|define-basic-event|define-parameter) )*",
    "define-gate": HEAD + FORMULA,
    "define-house-event": f"{HEAD}(constant )?",
    "define-basic-event": f"{HEAD}({EXPRESSION})?",
    "attributes": "(attribute )+",
    "not": FORMULA,
    "imply": FORMULA * 2,
    "exponential": EXPRESSION * 2,
    **dict.fromkeys(("and", "or", "xor", "iff", "nand", "nor", "atleast", "cardinality"), f"({FORMULA})+"),
    **dict.fromkeys((*REFERENCES.split("|"), "constant", "label", "attribute", "float"), ""),
}
ATTRIBUTES = {
    "attribute": {"name", "value"},
    "atleast": {"min"},
    "cardinality": {"min", "max"},
    "constant": {"value"},
    "float": {"value"},
    **{key: {"name"} for key in (*REFERENCES.split("|"), *(tag for tag in CHILDREN if tag.startswith("define-")))},
}


def breaches(text: str) -> list[str]:
    """What breaks the schema."""
    root = ElementTree.fromstring(text)
    found = [] if root.tag == "opsa-mef" else [f"the root is {root.tag}"]
    return found + [f"{one.tag}: {what}" for one in root.iter() for what in _wrong(one)]


def _wrong(one: Element) -> Iterator[str]:
    if one.tag not in CHILDREN:
        yield "unknown element"
        return
    tags = "".join(f"{child.tag} " for child in one)
    if not re.fullmatch(CHILDREN[one.tag], tags):
        yield f"children {tags}"
    if set(one.attrib) - {"type"} != ATTRIBUTES.get(one.tag, set()):
        yield f"attributes {sorted(one.attrib)}"
    if one.tag != "label" and (one.text or "").strip():
        yield f"text {one.text}"
    if one.tag not in ("attribute", "opsa-mef") and "name" in one.attrib and not NAME.fullmatch(one.attrib["name"]):
        yield f"name {one.attrib['name']}"
