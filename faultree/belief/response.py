"""The response network: one variable per node, whose values are its distinct response vectors.

A world is one setting of the conditions with some units made good. A node's *response vector* says
in which worlds it is true. Instead of one copy of the graph per world, which would couple the copies
through their causes, each node becomes one variable whose values are the response vectors that can
occur (as commanded, lost, forced, ...). Vectors are integers, bit w for world w.

Gates over many inputs are split into balanced pairs, so that every relation joins three variables.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from faultree.belief.prior import Prior
    from faultree.logic.graph import Graph, Node


class World(NamedTuple):
    """A setting of every condition, and the roots (by index) that have been made good."""

    settings: tuple[tuple[str, bool], ...]
    repaired: frozenset[int] = frozenset()


class Target(NamedTuple):
    """A literal in one world (by index): something that is observed or asked for."""

    literal: int
    world: int


class Response(NamedTuple):
    """What a node or literal is: a variable and the response vector of each of its values.

    `variable` is -1 for a constant, whose vector is `vectors[0]`.
    """

    variable: int
    vectors: tuple[int, ...]


class Relation(NamedTuple):
    """`output` has the value `table[a][b]` where `first` has value a and `second` value b."""

    first: int
    second: int
    output: int
    table: tuple[tuple[int, ...], ...]


@dataclass
class Network:
    """Variables with their number of values, the relations between them, and what was asked.

    `roots` maps a root's index to its variable (roots outside the cone have none), `targets` gives
    each target's response, restricted to its own world: vectors are 0 or 1.
    """

    sizes: list[int] = field(default_factory=list)
    relations: list[Relation] = field(default_factory=list)
    roots: dict[int, int] = field(default_factory=dict)
    targets: list[Response] = field(default_factory=list)
    vectors: int = 0

    def variable(self, size: int) -> int:
        """Add a variable with this many values, and return its number."""
        self.sizes.append(size)
        return len(self.sizes) - 1


def network_of(graph: Graph, prior: Prior, worlds: Sequence[World], targets: Sequence[Target]) -> Network:
    """The response network of the cone of some targets.

    Each node is followed only through the worlds in which a target needs it and in which it is not
    already settled by the conditions; everything else is left out of its vectors.
    """
    builder = _Builder(graph, prior, worlds, targets)
    return builder.run(targets)


def reached_roots(graph: Graph, prior: Prior, world: World) -> list[int]:
    """For each node the roots that can matter to it in a world, as bits; none where the conditions settle it.

    These are the roots that `network_of` would make variables of for that node alone.
    """
    on, off = _settled(graph, prior, [world], 1)
    reached: list[int] = []
    for index, node in enumerate(graph.nodes):
        roots = 0
        if not on[index] | off[index]:
            for literal in node.inputs:
                roots |= reached[literal >> 1]
            if node.kind == "cause":
                roots = 1 << prior.seat[node.name][0]
        reached.append(roots)
    return reached


class _Builder:
    """One pass down to find what matters in which world, one pass up to make the variables."""

    def __init__(self, graph: Graph, prior: Prior, worlds: Sequence[World], targets: Sequence[Target]) -> None:
        self.graph, self.prior = graph, prior
        self.every = (1 << len(worlds)) - 1
        self.on, self.off = _settled(graph, prior, worlds, self.every)
        self.needed = self._need(targets)
        self.spared = _spared(worlds, self.every)
        self.network = Network()
        self.pairs: dict[tuple[object, ...], Response] = {}

    def _need(self, targets: Sequence[Target]) -> list[int]:
        needed = [0] * len(self.graph.nodes)
        for literal, world in targets:
            needed[literal >> 1] |= 1 << world
        for index in range(len(needed) - 1, 0, -1):
            open_worlds = needed[index] & ~(self.on[index] | self.off[index])
            if open_worlds:
                for literal in self.graph.nodes[index].inputs:
                    needed[literal >> 1] |= open_worlds
        return needed

    def run(self, targets: Sequence[Target]) -> Network:
        responses: list[Response] = []
        for index, node in enumerate(self.graph.nodes):
            responses.append(self._respond(index, node, responses))
        for literal, world in targets:
            variable, vectors = responses[literal >> 1]
            seen = tuple(((vector >> world) & 1) ^ (literal & 1) for vector in vectors)
            self.network.targets.append(_plain(variable, seen))
        return self.network

    def _respond(self, index: int, node: Node, responses: Sequence[Response]) -> Response:
        always = self.needed[index] & self.on[index]
        unsettled = self.needed[index] & ~(self.on[index] | self.off[index])
        if not unsettled:
            return Response(-1, (always,))
        if node.kind == "cause":
            return self._cause(node.name)
        make = self._any if node.kind == "any" else self._counting
        variable, vectors = make(node, unsettled, responses)
        return _plain(variable, tuple(vector | always for vector in vectors))

    def _cause(self, name: str) -> Response:
        root, seat = self.prior.seat[name]
        size = len(self.prior.roots[root].probabilities)
        if root not in self.network.roots:
            self.network.roots[root] = self.network.variable(size)
        present = self.spared.get(root, self.every)
        return Response(self.network.roots[root], tuple(present * (value == seat) for value in range(size)))

    def _any(self, node: Node, needed: int, responses: Sequence[Response]) -> Response:
        always = 0
        merged: dict[int, tuple[int, ...]] = {}
        for literal in node.inputs:
            variable, vectors = responses[literal >> 1]
            flip = needed if literal & 1 else 0
            shown = tuple((vector & needed) ^ flip for vector in vectors)
            if variable < 0:
                always |= shown[0]
            elif variable in merged:
                merged[variable] = tuple(a | b for a, b in zip(merged[variable], shown, strict=True))
            else:
                merged[variable] = shown
        return self._join_any(merged, always)

    def _join_any(self, merged: dict[int, tuple[int, ...]], always: int) -> Response:
        settled = False
        while not settled:
            settled = True
            for variable, vectors in list(merged.items()):
                shown = tuple(vector & ~always for vector in vectors)
                merged[variable] = shown
                if len(set(shown)) == 1:
                    settled = settled and not shown[0]
                    always |= shown[0]
                    del merged[variable]
        parts = [Response(variable, vectors) for variable, vectors in merged.items()]
        if not parts:
            return Response(-1, (always,))
        joined = self._balanced(parts)
        return Response(joined.variable, tuple(vector | always for vector in joined.vectors))

    def _balanced(self, parts: list[Response]) -> Response:
        while len(parts) > 1:
            paired = [self._pair(parts[i], parts[i + 1]) for i in range(0, len(parts) - 1, 2)]
            parts = _one_each(paired + parts[len(paired) * 2 :])
        return parts[0]

    def _pair(self, one: Response, two: Response) -> Response:
        """A new variable for the union of two response vectors; equal pairs are shared."""
        key = (one, two) if one.variable < two.variable else (two, one)
        if key not in self.pairs:
            self.pairs[key] = self._new(one, two, [[a | b for b in two.vectors] for a in one.vectors])
        return self.pairs[key]

    def _new(self, one: Response, two: Response, combined: Sequence[Sequence[int]]) -> Response:
        values = sorted({value for row in combined for value in row})
        number = {value: place for place, value in enumerate(values)}
        table = tuple(tuple(number[value] for value in row) for row in combined)
        output = self.network.variable(len(values))
        self.network.vectors += len(values)
        self.network.relations.append(Relation(one.variable, two.variable, output, table))
        return Response(output, tuple(values))

    def _counting(self, node: Node, needed: int, responses: Sequence[Response]) -> Response:
        """Gates that count: values are counts per needed world, packed as digits of one integer."""
        worlds = [world for world in range(needed.bit_length()) if needed >> world & 1]
        cap = node.count if node.kind == "at_least" else 2
        always = (0,) * len(worlds)
        merged: dict[int, tuple[tuple[int, ...], ...]] = {}
        for literal in node.inputs:
            variable, vectors = responses[literal >> 1]
            shown = tuple(tuple((vector >> world & 1) ^ (literal & 1) for world in worlds) for vector in vectors)
            if variable < 0:
                always = _add(always, shown[0], cap)
            elif variable in merged:
                merged[variable] = tuple(_add(a, b, cap) for a, b in zip(merged[variable], shown, strict=True))
            else:
                merged[variable] = shown
        return self._join_counts(node, worlds, merged, always, cap)

    def _join_counts(
        self,
        node: Node,
        worlds: Sequence[int],
        merged: Mapping[int, tuple[tuple[int, ...], ...]],
        always: tuple[int, ...],
        cap: int,
    ) -> Response:
        width = cap.bit_length()
        counts: tuple[tuple[int, ...], ...]
        parts = [(variable, shown) for variable, shown in merged.items() if len(set(shown)) > 1]
        for shown in merged.values():
            if len(set(shown)) == 1:
                always = _add(always, shown[0], cap)
        variable, counts = -1, (always,)
        for other, shown in parts:
            total = [[_add(a, b, cap) for b in shown] for a in counts]
            if variable < 0:
                variable, counts = other, tuple(total[0])
                continue
            packed = [[_pack(one, width) for one in row] for row in total]
            unpacked = {_pack(one, width): one for row in total for one in row}
            one = Response(variable, tuple(range(len(counts))))
            made = self._new(one, Response(other, tuple(range(len(shown)))), packed)
            variable, counts = made.variable, tuple(unpacked[value] for value in made.vectors)
        vectors = tuple(_vector(one, worlds, node) for one in counts)
        return _plain(variable, vectors)


def _one_each(parts: list[Response]) -> list[Response]:
    """Parts of the same variable joined: a shared pair may come up beside itself."""
    merged: dict[int, tuple[int, ...]] = {}
    for variable, vectors in parts:
        known = merged.get(variable, (0,) * len(vectors))
        merged[variable] = tuple(a | b for a, b in zip(known, vectors, strict=True))
    return [Response(variable, vectors) for variable, vectors in merged.items()]


def _plain(variable: int, vectors: tuple[int, ...]) -> Response:
    """The response, as a constant where all its values show the same."""
    return Response(-1, (vectors[0],)) if len(set(vectors)) == 1 else Response(variable, vectors)


def _add(one: tuple[int, ...], two: tuple[int, ...], cap: int) -> tuple[int, ...]:
    return tuple(min(a + b, cap) for a, b in zip(one, two, strict=True))


def _pack(counts: tuple[int, ...], width: int) -> int:
    return sum(count << (place * width) for place, count in enumerate(counts))


def _vector(counts: tuple[int, ...], worlds: Sequence[int], node: Node) -> int:
    holds = [count == 1 if node.kind == "one_of" else count >= node.count for count in counts]
    return sum(1 << world for world, true in zip(worlds, holds, strict=True) if true)


def _spared(worlds: Sequence[World], every: int) -> dict[int, int]:
    """For each root that is made good somewhere: the worlds in which it is not."""
    spared: dict[int, int] = {}
    for number, world in enumerate(worlds):
        for root in world.repaired:
            spared[root] = spared.get(root, every) & ~(1 << number)
    return spared


def _settled(graph: Graph, prior: Prior, worlds: Sequence[World], every: int) -> tuple[list[int], list[int]]:
    """For each node: the worlds in which it is true, and false, whatever is wrong."""
    settings = [dict(world.settings) for world in worlds]
    spared = _spared(worlds, every)
    on: list[int] = []
    off: list[int] = []
    for node in graph.nodes:
        if node.kind == "true":
            true, false = every, 0
        elif node.kind == "condition":
            true = sum(1 << w for w, values in enumerate(settings) if values[node.name])
            false = every & ~true
        elif node.kind == "cause":
            true, false = 0, every & ~spared.get(prior.seat[node.name][0], every)
        else:
            true, false = _settled_gate(node, on, off, every)
        on.append(true)
        off.append(false)
    return on, off


def _settled_gate(node: Node, on: Sequence[int], off: Sequence[int], every: int) -> tuple[int, int]:
    trues = [off[one >> 1] if one & 1 else on[one >> 1] for one in node.inputs]
    falses = [on[one >> 1] if one & 1 else off[one >> 1] for one in node.inputs]
    if node.kind == "any":
        true, false = 0, every
        for one in trues:
            true |= one
        for one in falses:
            false &= one
        return true, false
    true = false = 0
    for world in range(every.bit_length()):
        sure = sum(one >> world & 1 for one in trues)
        never = sum(one >> world & 1 for one in falses)
        true |= _surely(node, sure, never) << world
        false |= _never(node, sure, never) << world
    return true, false


def _surely(node: Node, sure: int, never: int) -> int:
    if node.kind == "one_of":
        return int(sure == 1 and sure + never == len(node.inputs))
    return int(sure >= node.count)


def _never(node: Node, sure: int, never: int) -> int:
    if node.kind == "one_of":
        return int(sure >= 2 or (sure == 0 and never == len(node.inputs)))
    return int(never > len(node.inputs) - node.count)
