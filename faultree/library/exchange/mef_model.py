"""What a file of the Open-PSA Model Exchange Format 2.0d declares: its containers, events and parameters, by place.

Whatever the format knows and a tree file has no place for is a problem by its name; nothing is passed over.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from faultree.base.problem import Problem
from faultree.base.words import did_you_mean, listing
from faultree.library.exchange.elements import Element
from faultree.library.exchange.mef_names import NAME_FORM, is_name
from faultree.library.values import control, shown

KINDS = {
    "define-gate": "gate",
    "define-basic-event": "basic event",
    "define-house-event": "house event",
    "define-parameter": "parameter",
}
"""The declarations that are read, and what each declares."""

CONTAINERS = ("define-fault-tree", "define-component", "model-data")
"""The elements that hold declarations."""

WITHOUT_COUNTERPART = frozenset(
    f"define-{name}"
    for name in (
        *("CCF-group", "event-tree", "functional-event", "sequence", "branch", "initiating-event"),
        *("initiating-event-group", "consequence", "consequence-group", "rule", "alignment", "substitution"),
        *("extern-library", "extern-function", "mission", "phase"),
    )
)
"""Declarations that the format knows and a tree file has no place for."""

UNITS = ("bool", "int", "float", "hours", "hours-1", "demands")
"""The units of parameters that need no conversion."""

MOST_NOTES = 5_000
"""Most problems that are noted of one file; far fewer are listed."""

_ATTRIBUTES: Mapping[str, tuple[str, ...]] = {
    "opsa-mef": ("name",),
    "define-fault-tree": ("name",),
    "define-component": ("name", "role"),
    "model-data": (),
    "define-gate": ("name", "role"),
    "define-basic-event": ("name", "role"),
    "define-house-event": ("name", "role"),
    "define-parameter": ("name", "role", "unit"),
    "label": (),
    "attributes": (),
    "attribute": ("name", "value", "type"),
}
_ALONE = "write declarations of gates, events and parameters only, each in its fault tree or in model-data"


class Attribute(NamedTuple):
    """One attribute of an author's own."""

    name: str
    value: str
    type: str = ""


@dataclass(frozen=True, slots=True)
class Declared:
    """A declaration, or a container: what it is, its names, and what stands in it.

    `scope` names the containers around it, outermost first; `body` holds the children besides label and
    attributes. A private one is seen only from within its innermost container.
    """

    kind: str
    name: str
    scope: tuple[str, ...]
    public: bool
    label: str
    attributes: tuple[Attribute, ...]
    body: tuple[Element, ...]
    element: Element

    @property
    def path(self) -> tuple[str, ...]:
        """Its name behind those of its containers."""
        return (*self.scope, self.name)

    @property
    def called(self) -> str:
        """How a message names it."""
        return f"the {self.kind} '{shown(self.name)}'"


@dataclass(slots=True)
class Model:
    """The declarations of one file in their order, its containers (the model itself first), and what is wrong."""

    events: list[Declared] = field(default_factory=list)
    parameters: list[Declared] = field(default_factory=list)
    containers: list[Declared] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def note(self, element: Element, message: str, hint: str) -> None:
        """Note what is wrong with an element; of a file that is wrong all over, no more than some thousands."""
        if len(self.problems) < MOST_NOTES:
            self.problems.append(element.problem(message, hint))


def declarations(root: Element) -> Model:
    """The model below the outermost element."""
    model = Model()
    if root.tag != "opsa-mef":
        message = f"the outermost element is '{shown(root.tag)}', so this is no Open-PSA model"
        model.note(root, message, "begin it with <opsa-mef>")
        return model
    _container(root, "model", (), True, model)
    return model


def _container(element: Element, kind: str, scope: tuple[str, ...], public: bool, model: Model) -> None:
    """Note a container and all that is declared in it."""
    named = _declared(element, kind, scope, public, model)
    model.containers.append(named)
    inner = named.path if kind in ("fault tree", "component") else scope
    for child in named.body:
        _member(child, element.tag, inner, named.public, model)


def _member(child: Element, parent: str, scope: tuple[str, ...], public: bool, model: Model) -> None:
    if child.tag in KINDS and not (parent == "opsa-mef" or (parent == "model-data" and child.tag == "define-gate")):
        found = _declared(child, KINDS[child.tag], scope, public, model)
        _count(found, model)
        (model.parameters if found.kind == "parameter" else model.events).append(found)
    elif child.tag in _members(parent):
        _container(child, child.tag.removeprefix("define-").replace("-", " "), scope, public, model)
    elif child.tag == "include":
        message = f"'{shown(child.attributes.get('file', ''))}' is to be included, and no other file is read"
        model.note(child, message, "put its content here")
    elif child.tag in KINDS or child.tag in CONTAINERS:
        model.note(child, f"'{child.tag}' has no place in '{parent}'", "put it into a fault tree")
    else:
        hint = f"remove it; {_ALONE}"
        hint = hint if child.tag in WITHOUT_COUNTERPART else did_you_mean(child.tag, [*KINDS, *CONTAINERS], hint)
        model.note(child, f"'{shown(child.tag)}' has no counterpart in a tree file", hint)


def _members(parent: str) -> tuple[str, ...]:
    if parent == "opsa-mef":
        return ("define-fault-tree", "model-data")
    return () if parent == "model-data" else ("define-component",)


def _declared(element: Element, kind: str, scope: tuple[str, ...], public: bool, model: Model) -> Declared:
    check_attributes(element, model, _ATTRIBUTES[element.tag])
    check_text(element, model)
    role = element.attributes.get("role", "public" if public else "private")
    if role not in ("public", "private"):
        model.note(element, f"the role is '{shown(role)}'", "write public or private")
    unit = element.attributes.get("unit", "float")
    if unit not in UNITS:
        model.note(element, f"the unit '{shown(unit)}' is not converted", f"write the value in {listing(UNITS, 'or')}")
    name = element.attributes.get("name", "").strip()
    optional = kind in ("model", "model data")
    if not is_name(name) and not (optional and not name):
        what = f"'{shown(name)}' is no name" if "name" in element.attributes else "it has no name"
        model.note(element, f"{what} for '{element.tag}'", NAME_FORM)
    body = tuple(child for child in element.children if child.tag not in ("label", "attributes"))
    return Declared(
        kind, name, scope, role == "public", _label(element, model), _attributes(element, model), body, element
    )


def _count(found: Declared, model: Model) -> None:
    """Check how many formulas or expressions a declaration holds: one, or for events at most one."""
    what = {"gate": "formula", "parameter": "expression", "basic event": "expression"}.get(found.kind, "constant")
    if len(found.body) > 1:
        model.note(found.body[1], f"{found.called} has a second {what}", "keep one")
    elif not found.body and found.kind in ("gate", "parameter"):
        model.note(found.element, f"{found.called} has no {what}", "add it, or remove the declaration")


def check_attributes(element: Element, model: Model, known: tuple[str, ...]) -> None:
    """Note attributes of an element that the format does not know; those that name a schema may stay."""
    for name in element.attributes:
        if name not in known and not name.startswith(("xmlns", "xsi:", "xml:")):
            hint = did_you_mean(name, known, "remove it, or put it among 'attributes'")
            model.note(element, f"unknown attribute '{shown(name)}' of '{shown(element.tag)}'", hint)


def check_text(element: Element, model: Model) -> None:
    """Note text where none belongs."""
    if element.text.strip():
        message = f"the text '{shown(element.text.strip())}' in '{shown(element.tag)}' says nothing"
        model.note(element, message, "remove it, or write it as a label")


def _label(element: Element, model: Model) -> str:
    """The label as one line; empty where there is none."""
    labels = [child for child in element.children if child.tag == "label"]
    for extra in labels[1:]:
        model.note(extra, f"'{element.tag}' has a second label", "keep one")
    if not labels:
        return ""
    check_attributes(labels[0], model, ())
    for child in labels[0].children:
        model.note(child, f"'{shown(child.tag)}' in a label", "write a label as plain text")
    text = " ".join(labels[0].text.split())
    bad = control(text)
    if bad is not None:
        model.note(labels[0], f"the label holds the character U+{ord(bad):04X}", "remove it: it could hide text")
    return text


def _attributes(element: Element, model: Model) -> tuple[Attribute, ...]:
    found: dict[str, Attribute] = {}
    groups = [child for child in element.children if child.tag == "attributes"]
    for extra in groups[1:]:
        model.note(extra, f"'{element.tag}' has a second list of attributes", "keep one")
    for child in (one for group in groups[:1] for one in group.children):
        if child.tag != "attribute":
            model.note(child, f"'{shown(child.tag)}' in 'attributes'", "write each one as 'attribute'")
            continue
        check_attributes(child, model, _ATTRIBUTES["attribute"])
        one = Attribute(*(child.attributes.get(key, "") for key in ("name", "value", "type")))
        if not one.name:
            model.note(child, "an attribute has no name", "give it one")
        elif one.name in found:
            model.note(child, f"the attribute '{shown(one.name)}' stands here twice", "keep one of the two")
        found.setdefault(one.name, one)
    return tuple(found.values())


def kept(attributes: Sequence[Attribute]) -> dict[str, Any]:
    """Attributes as an author's own data: by name, with the type beside the value where there is one."""
    return {one.name: {"value": one.value, "type": one.type} if one.type else one.value for one in attributes}
