"""What one cause changes in a situation, and the way from it to what was seen."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from faultree.library.model import Event, refs
from faultree.logic.graph import operands
from faultree.logic.simulate import evaluate, value_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from faultree.belief.frame import Frame
    from faultree.library.model import Library, Operand


@dataclass(frozen=True)
class Trace:
    """Named nodes with their value under the faults (`now`) and under the same without one cause (`otherwise`)."""

    library: Library
    situation: str
    now: dict[str, bool]
    otherwise: dict[str, bool]
    seen: tuple[str, ...]

    @cached_property
    def changed(self) -> frozenset[str]:
        """Nodes that the cause changes."""
        return frozenset(name for name, value in self.now.items() if value != self.otherwise[name])

    @cached_property
    def _users(self) -> dict[str, list[str]]:
        users: dict[str, list[str]] = {}
        for name in self.changed:
            entry = self.library.signals.get(name) or self.library.events.get(name)
            if entry is not None:
                for used in {ref.id for operand in operands(entry) for ref in refs(operand)}:
                    users.setdefault(used, []).append(name)
        return users

    def path(self, cause: str) -> list[str]:
        """The shortest chain of changed nodes from a cause to one that was seen; empty if there is none."""
        came: dict[str, str | None] = {cause: None}
        front = deque([cause])
        while front:
            name = front.popleft()
            if name in self.seen:
                return _back(came, name)
            for user in sorted(self._users.get(name, ())):
                if user not in came:
                    came[user] = name
                    front.append(user)
        return []

    def sentence(self, before: str, after: str) -> str:
        """What one changed node does to the next, as a sentence that follows the one about the first."""
        entry = self.library.signals.get(after) or self.library.events[after]
        what = f"“{entry.title}”"
        if isinstance(entry, Event):
            return f"So {what} {'holds' if self.now[after] else 'no longer holds'}."
        if self.now[after]:
            start = "That forces" if before in _names(entry.forced_if) else "That lets through"
            return f"{start} {what}: it is present when it should not be."
        return f"That takes away {what}." if before in _names(entry.lost_if) else f"So {what} is missing."


def _names(some: Iterable[Operand]) -> frozenset[str]:
    return frozenset(ref.id for operand in some for ref in refs(operand))


def _back(came: dict[str, str | None], name: str) -> list[str]:
    path: list[str] = []
    here: str | None = name
    while here is not None:
        path.append(here)
        here = came[here]
    return path[::-1]


def trace_of(frame: Frame, symptom: str, faults: frozenset[str], cause: str) -> Trace:
    """What one cause of a fault set changes in the situation of a symptom, the others being there."""
    library = frame.library
    entry = library.symptoms[symptom]
    settings = library.settings(entry.situation)
    now = evaluate(frame.graph, settings, faults)
    without = evaluate(frame.graph, settings, faults - {cause})
    literals = frame.graph.literals
    return Trace(
        library,
        library.situations[entry.situation].title if entry.situation else "",
        {name: value_of(now, literal) for name, literal in literals.items()},
        {name: value_of(without, literal) for name, literal in literals.items()},
        tuple(node for node, _ in entry.sees),
    )
