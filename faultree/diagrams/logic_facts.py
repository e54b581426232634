"""What is known of the boxes of a logic drawing: values, panels, marks, and the way of the likeliest cause."""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from faultree.diagrams.drawing import Request
from faultree.diagrams.net import Link, Net
from faultree.diagrams.parts import letters
from faultree.logic.graph import build
from faultree.logic.simulate import evaluate, value_of

SPLIT = "#"
"""Stands between the id of a system and the numbers of a piece of it."""


def _system(panel: str) -> str:
    return panel.partition(SPLIT)[0]


@dataclass(frozen=True, eq=False)
class Facts:
    """What is shown of the boxes besides their titles: values, marks of other panels, and the evidence.

    `assumed` is the page of panels whose page is not known yet, so that there is room for its number.
    """

    asked: Request
    net: Net
    home: Mapping[str, str]
    pages: Mapping[str, int] = field(default_factory=dict)
    assumed: int = 0

    @cached_property
    def sound(self) -> Mapping[str, bool]:
        """The value of every node in the symptom's situation while nothing is wrong."""
        return _sound(self.asked)

    @cached_property
    def marks(self) -> Mapping[str, str]:
        """The mark of each box that another panel uses."""
        away = dict.fromkeys(link.tail for link in self.net.links if self.crosses(link))
        return {name: letters(number) for number, name in enumerate(away)}

    @cached_property
    def way(self) -> frozenset[str]:
        """The boxes on the way from the likeliest cause to the report."""
        return _way(self.net, self.asked.evidence.likeliest)

    def crosses(self, link: Link) -> bool:
        """Whether a link leads from one panel to another."""
        return self.home[link.tail] != self.home[link.head]

    def panels(self) -> tuple[str, ...]:
        """The panels as they are drawn: that of the report first, then its system's and the others' from the left."""
        found = dict.fromkeys(self.home[name] for name in reversed(list(self.net.nodes)))
        systems = list(dict.fromkeys(_system(name) for name in found))
        first = next(iter(found))
        return tuple(sorted(found, key=lambda name: (name != first, systems.index(_system(name)), name)))

    def origin(self, name: str) -> str:
        """Where a box that another panel uses is drawn, in words."""
        panel = self.home[name]
        page = self.pages.get(panel, self.assumed)
        words = f"from: {self.panel_title(panel)}"
        return f"{words}, page {page}" if page else words

    def panel_title(self, panel: str) -> str:
        """The title of a panel: its system, and which piece of it."""
        system = _system(panel)
        title = self.asked.library.systems[system].title
        bands = [name for name in self.panels() if _system(name) == system]
        return title if len(bands) == 1 else f"{title} ({bands.index(panel) + 1} of {len(bands)})"


def _sound(asked: Request) -> dict[str, bool]:
    """The value of every node in the symptom's situation while nothing is wrong."""
    graph = build(asked.library)
    settings = asked.library.settings(asked.library.symptoms[asked.symptom].situation)
    values = evaluate(graph, settings, frozenset())
    return {name: value_of(values, literal) for name, literal in graph.literals.items()}


def _way(net: Net, cause: str) -> frozenset[str]:
    """The boxes on a shortest way from the one that names the likeliest cause to the report."""
    if not cause:
        return frozenset()
    starts = [
        node.id
        for node in net.nodes.values()
        if node.source == cause or any(row.name == cause and not row.tail for row in node.rows)
    ]
    before: dict[str, str] = dict.fromkeys(starts, "")
    queue = deque(starts)
    end = next(node.id for node in net.nodes.values() if node.kind == "report")
    while queue and end not in before:
        name = queue.popleft()
        for link in net.links:
            if link.tail == name and link.head not in before:
                before[link.head] = name
                queue.append(link.head)
    found, name = [], end if end in before else ""
    while name:
        found.append(name)
        name = before[name]
    return frozenset(found)
