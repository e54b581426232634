"""A fault tree as one HTML page: branches fold, the view moves and grows, every node shows its details."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from html import escape

from markupsafe import Markup

from faultree.base.words import capital, percent
from faultree.diagrams.evidence import NOTHING, Evidence
from faultree.diagrams.symbols import likelihood
from faultree.library.model import Library
from faultree.logic.fault_tree import FaultTree, TreeNode
from faultree.reports.pages import rendered, script_data
from faultree.walk.prompt import NOTICE
from faultree.walk.scale import bands

OPEN_LEVELS = 4
"""So many levels are unfolded at first."""

SIGNS = {
    "all": "& all of",
    "any": "≥1 one or more of",
    "none": "none of",
    "not": "what hangs below must not be so",
    "one_of": "=1 exactly one of",
}
"""What stands in a gate: the sign of the drawings, and what it means."""


def explore_html(library: Library, tree: FaultTree, evidence: Evidence = NOTHING) -> str:
    """The page of a tree, with what a case has found where there is one."""
    symptom = library.symptoms[tree.symptom]
    system = library.systems[symptom.system]
    situation = library.situations[tree.situation].title if tree.situation else ""
    lines = [f"{system.title}{f', chapter {system.chapter}' if system.chapter else ''}"]
    lines += [f"Situation: {situation}"] if situation else []
    found = [f"Reported too: {library.symptoms[one].title}" for one in evidence.symptoms if one != tree.symptom]
    found += [f"Found: {one}" for one in evidence.steps]
    lines += [one for one in (bands(library, set(tree.causes)),) if one]
    page = _Page(library, tree, evidence)
    data = {key: page.facts(node) for key, node in tree.nodes.items()}
    return rendered(
        "explore.html.j2",
        title=tree.title,
        lines=lines,
        found=found,
        notice=NOTICE,
        tree=page.markup(),
        data=script_data(data),
    )


def _sign(node: TreeNode) -> str:
    """How many of its inputs a gate needs, in words behind the sign."""
    count = len(node.inputs)
    if node.gate == "not":
        return SIGNS["not"]
    words = f"≥{node.count} at least {node.count} of" if node.gate == "at_least" else SIGNS[node.gate or "any"]
    return f"{words} {count}"


@dataclass
class _Page:
    """The nested list of one tree; a part that is used twice stands where it comes first."""

    library: Library
    tree: FaultTree
    evidence: Evidence
    _ids: dict[str, str] = field(default_factory=dict)
    _path: frozenset[str] = frozenset()

    def markup(self) -> Markup:
        """The list as markup; every text of an author is escaped here."""
        self._path = self._to_likeliest()
        return Markup(f'<ul id="tree">{"".join(self._item(self.tree.top, 1))}</ul>')

    def _item(self, key: str, level: int) -> Iterator[str]:
        node = self.tree.nodes[key]
        if key in self._ids:
            yield f"<li>{self._button(node, 'again', [('data-to', self._ids[key])], 'shown elsewhere')}</li>"
            return
        self._ids[key] = f"n{len(self._ids) + 1}"
        attributes = [("id", self._ids[key])]
        if not node.inputs:
            yield f"<li>{self._button(node, node.kind, attributes)}</li>"
            return
        shut = level >= OPEN_LEVELS
        attributes += [("aria-expanded", "false" if shut else "true"), ("data-below", str(len(node.inputs)))]
        yield f"<li>{self._button(node, 'gate', attributes)}<ul{' hidden' if shut else ''}>"
        for name in node.inputs:
            yield from self._item(name, level + 1)
        yield "</ul></li>"

    def _button(self, node: TreeNode, kind: str, attributes: Sequence[tuple[str, str]], note: str = "") -> str:
        looks = ["node", kind]
        if self.evidence.given and node.kind == "cause" and self.evidence.state(node.source) == "cleared":
            looks.append("cleared")
        if node.key in self._path:
            looks.append("path")
        said = "".join(f' {name}="{escape(value)}"' for name, value in (("data-key", node.key), *attributes))
        parts = [escape(node.title)] if node.title else []
        if node.gate:
            parts.append(f"<b>{escape(_sign(node))}</b>")
        if node.kind == "house":
            parts.append(f"<b>{'on' if node.state else 'off'}</b>")
        if note:
            parts.append(f"<b>{escape(note)}</b>")
        if node.kind == "cause" and self.evidence.given and not note:
            parts.append(self._bar(node.source))
        return f'<button type="button" class="{" ".join(looks)}"{said}>{"".join(parts)}</button>'

    def _bar(self, cause: str) -> str:
        chance = self.evidence.probabilities.get(cause, 0.0)
        said = escape(self.evidence.says(cause))
        return f'<b>{said}</b><span class="chance"><i style="width:{100 * min(chance, 1.0):.1f}%"></i></span>'

    def facts(self, node: TreeNode) -> dict[str, object]:
        """What is shown beside the tree when a node is chosen."""
        return {"title": node.title or capital(_sign(node)), "facts": list(self._facts(node))}

    def _facts(self, node: TreeNode) -> Iterator[tuple[str, str]]:
        if node.gate:
            yield "Gate", _sign(node)
        if node.kind == "house":
            yield "Fact", f"of the situation: {'so' if node.state else 'not so'}"
        if node.kind == "undeveloped":
            yield "Branch", "not drawn further"
        if node.source in self.library.causes and node.kind == "cause":
            yield from self._cause(node.source)
        elif node.source in self.evidence.observed:
            words = self.evidence.observed[node.source].stated(self.library, self.tree.situation)
            yield "Seen", words.removeprefix("seen: ").removeprefix("seen ")
        if node.source:
            yield "Id", node.source

    def _cause(self, name: str) -> Iterator[tuple[str, str]]:
        cause = self.library.causes[name]
        yield "Likelihood", likelihood(cause.likelihood, cause.probability)
        if self.evidence.given:
            yield "Now", percent(self.evidence.probabilities.get(name, 0.0))
        item = self.library.items.get(cause.item or "")
        if item:
            yield from (
                ("Item", item.title),
                *(one for one in (("Where", item.place), ("Manual", item.manual)) if one[1]),
            )
        elif cause.manual:
            yield "Manual", cause.manual
        if cause.note:
            yield "Note", cause.note

    def _to_likeliest(self) -> frozenset[str]:
        """The nodes on the ways from the likeliest cause to the top."""
        if not self.evidence.likeliest:
            return frozenset()
        found = {node.key for node in self.tree if node.source == self.evidence.likeliest and node.kind == "cause"}
        for node in reversed(list(self.tree)):
            if found.intersection(node.inputs):
                found.add(node.key)
        return frozenset(found)
