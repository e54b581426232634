"""Writes a derived fault tree as a model of the Open-PSA Model Exchange Format 2.0d."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from faultree.base.errors import FaultreeError
from faultree.base.words import listing
from faultree.library.exchange.mef_model import Attribute
from faultree.library.exchange.mef_names import Taken, is_name, name_from
from faultree.library.exchange.mef_own import PREFIX, attributes_of
from faultree.library.exchange.written import Exported
from faultree.library.values import shown

if TYPE_CHECKING:
    from faultree.library.model import Cause, Library
    from faultree.logic.fault_tree import FaultTree, TreeNode

NOTICE = "The approved maintenance manual and a licensed engineer decide."

_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_TAGS = {"gate": "gate", "cause": "basic-event", "house": "house-event", "undeveloped": "house-event"}


def open_psa_text(library: Library, tree: FaultTree) -> Exported:
    """The model of one derived tree: its gates and house events as a fault tree, its causes as model data.

    The top gate has the name of the symptom. A part that the author described is a gate with its title as
    the label and its full id as an attribute; any other stands within the formula that uses it, unless
    several do. An undeveloped part is a house event that is false.
    """
    return _Writer(library, tree).exported()


@dataclass
class _Writer:
    """One tree on its way into the format."""

    library: Library
    tree: FaultTree
    names: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.inner = {node.key for node in self.tree if self._within(node)}
        self._name()

    def exported(self) -> Exported:
        root = Element("opsa-mef")
        trunk = SubElement(root, "define-fault-tree", name=self.names[self.tree.top])
        self._head(trunk)
        for node in self.tree:
            if node.kind == "gate" and node.key not in self.inner:
                self._formula(self._define(trunk, "define-gate", node), node)
        for node in self.tree:
            if node.kind in ("house", "undeveloped"):
                made = self._define(trunk, "define-house-event", node)
                SubElement(made, "constant", value="true" if node.state else "false")
        causes = [node for node in self.tree if node.kind == "cause"]
        data = SubElement(root, "model-data") if causes else root
        for node in causes:
            _likelihood(self._define(data, "define-basic-event", node), self.library.causes[node.source])
        indent(root)
        text = f'<?xml version="1.0" encoding="UTF-8"?>\n{tostring(root, encoding="unicode")}\n'
        return Exported(text, tuple(self._notes()))

    # ---- names

    def _within(self, node: TreeNode) -> bool:
        """Whether a gate is written within the formula that uses it: undescribed and used once, or not a leaf."""
        if node.kind != "gate" or node.key == self.tree.top:
            return False
        if node.gate == "not" and self.tree.nodes[node.inputs[0]].kind != "gate":
            return True
        return not node.title and node.key not in self.tree.shared

    def _name(self) -> None:
        """Give each node the name nearest to its id; of two files with the same short id, one with the file."""
        named = [node for node in self.tree if node.key not in self.inner]
        shorts = {node.key: self._short(node) for node in named}
        twice = {short for short, count in Counter(shorts.values()).items() if count > 1}
        wanted = {
            node.key: name_from(f"{node.system}_{shorts[node.key]}")
            if shorts[node.key] in twice and node.key != self.tree.top
            else shorts[node.key]
            for node in named
        }
        taken = Taken()
        for key in sorted(wanted, key=lambda key: (key != self.tree.top, not is_name(key.rpartition("/")[2]))):
            self.names[key] = taken.free(wanted[key])

    def _short(self, node: TreeNode) -> str:
        if node.key == self.tree.top:
            return name_from(self.tree.symptom.partition("/")[2])
        if not node.source:
            return name_from(node.key)
        extra = self.library.node(node.source).extra
        original = str(extra.get("x-name", ""))
        short = original if is_name(original) else name_from(node.source.partition("/")[2])
        return f"not-{short}" if node.key.endswith("=no") else short

    # ---- elements

    def _define(self, parent: Element, tag: str, node: TreeNode) -> Element:
        made = SubElement(parent, tag, name=self.names[node.key])
        title = node.title or (node.source and self.library.node(node.source).title)
        if title:
            SubElement(made, "label").text = " ".join(title.split())
        _attributes(made, [*self._own(node), *self._kept(node)])
        return made

    def _own(self, node: TreeNode) -> list[Attribute]:
        """The attributes that faultree writes, and reads again."""
        found = [Attribute(f"{PREFIX}id", node.source)] if node.source else []
        if node.kind == "undeveloped":
            found.append(Attribute(f"{PREFIX}kind", "undeveloped"))
        if node.kind == "cause":
            cause = self.library.causes[node.source]
            item = self.library.items[cause.item] if cause.item else None
            found += attributes_of(cause, item, self._item(cause.item or ""))
        return found

    def _item(self, name: str) -> str:
        """An item's short id, or with its file where another item of the tree has the same one."""
        system, _, short = name.partition("/")
        items = {self.library.causes[cause].item or "" for cause in self.tree.causes}
        same = [one for one in items if one.partition("/")[2] == short]
        return short if len(same) < 2 else f"{system}_{short}"

    def _kept(self, node: TreeNode) -> Iterator[Attribute]:
        """The attributes that an entry kept from a model that it was read from."""
        if not node.source or node.key == self.tree.top:
            return
        extra = self.library.node(node.source).extra.get("x-attributes")
        for name, value in extra.items() if isinstance(extra, Mapping) else ():
            if not str(name).startswith(PREFIX):
                typed = value if isinstance(value, Mapping) else {"value": value}
                yield Attribute(str(name), _word(typed.get("value")), _word(typed.get("type")))

    def _formula(self, parent: Element, node: TreeNode) -> None:
        """The formula of a gate, below the element given."""
        if not node.inputs:
            SubElement(parent, "constant", value="true" if node.gate in ("all", "none") else "false")
            return
        inner = parent
        for tag, limits in _connective(node):
            inner = SubElement(inner, tag, limits)
        for key in node.inputs:
            one = self.tree.nodes[key]
            if key in self.inner:
                self._formula(inner, one)
            else:
                SubElement(inner, _TAGS[one.kind], name=self.names[key])

    def _head(self, trunk: Element) -> None:
        SubElement(trunk, "label").text = " ".join(self.tree.title.split())
        found = [Attribute(f"{PREFIX}symptom", self.tree.symptom)]
        if self.tree.situation:
            found.append(Attribute(f"{PREFIX}situation", self.library.situations[self.tree.situation].title))
        _attributes(trunk, [*found, Attribute(f"{PREFIX}notice", NOTICE)])

    # ---- notes

    def _notes(self) -> Iterator[str]:
        items = Counter(self.library.causes[cause].item for cause in self.tree.causes)
        several = [self.library.items[item].title for item, count in items.items() if item and count > 1]
        if several:
            listed = listing([*several[:3], *([f"{len(several) - 3} more"] if len(several) > 3 else [])])
            yield (
                "The faults of one item exclude each other here; in the format they are independent. Their events "
                f"carry the attribute {PREFIX}item, by which import puts that right; other programs may combine "
                f"them ({listed})."
            )
        if any(node.kind == "undeveloped" for node in self.tree):
            yield "What is left undeveloped is a house event that is false."
        yield "A fault tree has no checks: they, access work and cautions are not in the file."


def _connective(node: TreeNode) -> list[tuple[str, dict[str, str]]]:
    """The elements of a gate, the outer one first; `xor` is parity there, so exactly one is a cardinality."""
    if node.gate == "at_least":
        return [("atleast", {"min": str(node.count)})]
    if node.gate == "one_of":
        return [("cardinality", {"min": "1", "max": "1"})]
    if node.gate == "none":
        return [("not", {}), ("or", {})] if len(node.inputs) > 1 else [("not", {})]
    return [({"all": "and", "any": "or", "not": "not"}[node.gate or "all"], {})]


def _likelihood(made: Element, cause: Cause) -> None:
    said = cause.likelihood
    if said.rate is None:
        SubElement(made, "float", value=repr(cause.probability))
        return
    law = SubElement(made, "exponential")
    SubElement(law, "float", value=repr(said.rate))
    SubElement(law, "float", value=repr(said.hours))


def _attributes(parent: Element, found: list[Attribute]) -> None:
    if not found:
        return
    group = SubElement(parent, "attributes")
    for one in found:
        if _NOT_XML.search(one.name + one.value + one.type):
            raise FaultreeError(f"the attribute '{shown(one.name)}' holds a character that no XML file can hold")
        SubElement(group, "attribute", {key: text for key, text in one._asdict().items() if text or key != "type"})


def _word(value: object) -> str:
    """An author's own value as the text of an attribute."""
    if isinstance(value, bool):
        return str(value).lower()
    return "" if value is None else str(value)
