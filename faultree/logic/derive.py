"""The fault tree of a symptom, derived from the success logic and gates of a library.

Every node is taken twice, as "it is so" and as "it is not so", and De Morgan's laws turn each into gates
over what its inputs must be. The conditions of the symptom's situation are settled while that is done.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from faultree.library.model import Event, Gate, Operand, Ref, Signal, refs
from faultree.logic.draft import FALSE, TRUE, Drafts
from faultree.logic.fault_tree import FaultTree
from faultree.logic.graph import definition_order, operands
from faultree.logic.titles import title_of
from faultree.logic.unfold import unfolded

if TYPE_CHECKING:
    from faultree.library.model import Library


def fault_tree(library: Library, symptom: str) -> FaultTree:
    """The derived tree of a symptom (by full or unique short id); raises UnknownName.

    A house event that helps a branch is kept as a leaf with its state; what the situation switches off is
    left out, and so is a gate with a single input. A part that several gates use stands once. A signal that
    is lost or forced carries the author's title, turned (`titles`); events carry it as it stands. `not`,
    `none` and `one_of` stay gates. An undeveloped signal is a leaf that no cause makes true. Causes of one item
    exclude each other: beside one of them, the absence of another is not asked for.

    A symptom that nothing can cause has the top `any` of nothing; one that is there with nothing wrong has
    `all` of house events.

    >>> from faultree.library.load import load_texts
    >>> library = load_texts({"door.yaml": '''
    ... faultree: 1
    ... title: Door
    ... causes:
    ...   fuse: {title: fuse blown, probability: 0.1}
    ...   motor: {title: motor dead, probability: 0.1}
    ... conditions:
    ...   pressed: {title: button pressed}
    ... situations:
    ...   closing: {title: button held, sets: {pressed: yes}}
    ... signals:
    ...   voltage: {title: voltage at the motor, follows: pressed, lost_if: [fuse]}
    ...   running: {title: door running, follows: voltage, lost_if: [motor]}
    ... symptoms:
    ...   stands: {title: the door stands still, situation: closing, sees: {running: no}}
    ... '''})
    >>> for node in fault_tree(library, "stands"):
    ...     print(node.key, node.title, node.gate, node.inputs)
    top the door stands still any ('door/fuse', 'door/motor')
    door/fuse fuse blown None ()
    door/motor motor dead None ()
    """
    name = library.symptom_id(symptom)
    entry = library.symptoms[name]
    items = {cause.id: cause.item for cause in library.causes.values() if cause.item}
    pairs = _Pairs(library, library.settings(entry.situation), Drafts(items))
    pairs.settle(node for node, _ in entry.sees)
    seen = pairs.drafts.all([pairs.table[node].of(value) for node, value in entry.sees])
    return FaultTree(name, entry.title, entry.situation, "top", unfolded(library, pairs.drafts, seen, entry))


class _Pair(NamedTuple):
    """The drafts of one node or operand: that it is so, and that it is not so."""

    yes: int
    no: int

    def of(self, value: bool) -> int:
        return self.yes if value else self.no


@dataclass
class _Pairs:
    """Both drafts of every node that a symptom needs, in one situation."""

    library: Library
    settings: dict[str, bool]
    drafts: Drafts
    table: dict[str, _Pair] = field(default_factory=dict)

    def settle(self, names: Iterable[str]) -> None:
        """Fill the table for some nodes and all that they use."""
        needed = set(names)
        gated = definition_order(self.library)
        for name in reversed(gated):
            if name in needed:
                entry = self.library.signals.get(name) or self.library.events[name]
                needed.update(ref.id for operand in operands(entry) for ref in refs(operand))
        for name in needed & self.library.causes.keys():
            self.table[name] = _Pair(self.drafts.cause(name), self.drafts.absent(name))
        for name in needed & self.library.conditions.keys():
            fact = self.drafts.house(name, self.settings[name])
            self.table[name] = _Pair(fact, FALSE) if self.settings[name] else _Pair(FALSE, fact)
        for name in gated:
            if name in needed:
                self.table[name] = self._named(self.library.signals.get(name) or self.library.events[name])

    def _named(self, entry: Signal | Event) -> _Pair:
        pair = self.operand(entry.gate) if isinstance(entry, Event) else self._signal(entry)
        usual = self.drafts.usual(pair.yes)
        return _Pair(*(self._described(entry, pair.of(value), value, usual) for value in (True, False)))

    def _described(self, entry: Signal | Event, draft: int, value: bool, usual: bool) -> int:
        title = title_of(entry, value, usual)
        if isinstance(entry, Signal) and entry.undeveloped and value != usual:
            draft = self._undeveloped(entry, draft, title)
        return self.drafts.described(draft, entry.id, value, title)

    def _undeveloped(self, entry: Signal, developed: int, title: str) -> int:
        """A leaf for what is left out on purpose, beside whatever is written down all the same."""
        if developed == FALSE:
            return self.drafts.undeveloped(entry.id, title)
        leaf = self.drafts.undeveloped(entry.id, f"{title}: further causes, not worked out here")
        return self.drafts.any([developed, leaf])

    def _signal(self, signal: Signal) -> _Pair:
        """(follows and not any lost_if) or any forced_if, and its opposite by De Morgan's laws."""
        follows = _Pair(TRUE, FALSE) if signal.follows is None else self.operand(signal.follows)
        lost = [self.operand(one) for one in signal.lost_if]
        forced = [self.operand(one) for one in signal.forced_if]
        held = self.drafts.all([follows.yes, *(one.no for one in lost)])
        gone = self.drafts.any([follows.no, *(one.yes for one in lost)])
        return _Pair(
            self.drafts.any([held, *(one.yes for one in forced)]),
            self.drafts.all([gone, *(one.no for one in forced)]),
        )

    def operand(self, operand: Operand) -> _Pair:
        """Both drafts of an operand, whose nodes are in the table."""
        if isinstance(operand, Ref):
            return self.table[operand.id]
        inner = [self.operand(one) for one in operand.operands]
        return self._gate(operand, inner)

    def _gate(self, gate: Gate, inner: Sequence[_Pair]) -> _Pair:
        so, not_so = [one.yes for one in inner], [one.no for one in inner]
        if gate.kind == "not":
            return _Pair(inner[0].no, inner[0].yes)
        if gate.kind == "all":
            return _Pair(self.drafts.all(so), self.drafts.any(not_so))
        if gate.kind == "any":
            return _Pair(self.drafts.any(so), self.drafts.all(not_so))
        if gate.kind == "none":
            return _Pair(self.drafts.all(not_so), self.drafts.any(so))
        if gate.kind == "one_of":
            return self._one_of(inner)
        few = len(inner) - gate.count + 1
        return _Pair(self.drafts.at_least(gate.count, so), self.drafts.at_least(few, not_so))

    def _one_of(self, inner: Sequence[_Pair]) -> _Pair:
        """Exactly one; of two, what differs from the usual is counted, as "one is lost" is what one looks for."""
        drafts = self.drafts
        live = [one for one in inner if one.yes != FALSE]
        if len(live) == 2 and all(drafts.usual(one.yes) and one.no != FALSE for one in live):
            gate = drafts.one_of([one.no for one in live])
            return _Pair(gate, drafts.opposite(gate))
        sure = [one.yes for one in live if drafts.certain(one.yes)]
        still = [one for one in live if not drafts.certain(one.yes)]
        if len(sure) > 1:
            return _Pair(FALSE, drafts.all(sure[:2]))
        if sure:
            return _Pair(drafts.all([*sure, *(one.no for one in still)]), drafts.any(one.yes for one in still))
        if len(still) < 2:
            return still[0] if still else _Pair(FALSE, TRUE)
        gate = drafts.one_of([one.yes for one in still])
        return _Pair(gate, drafts.opposite(gate))
