"""Simulation of the graph: one fault set in plain Python, many at once in packed bits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.logic.graph import Graph, Node


def evaluate(graph: Graph, settings: Mapping[str, bool], faults: Set[str]) -> list[bool]:
    """The value of every node under one fault set.

    `settings` gives every condition's value, `faults` the causes that are present. The result is
    indexed by node; `value_of` reads a literal from it.
    """
    values: list[bool] = []
    for node in graph.nodes:
        values.append(_one(node, values, settings, faults))
    return values


def value_of(values: Sequence[bool], literal: int) -> bool:
    """The value of a literal, given the values of all nodes."""
    return values[literal >> 1] ^ bool(literal & 1)


def _one(node: Node, values: list[bool], settings: Mapping[str, bool], faults: Set[str]) -> bool:
    if node.kind == "cause":
        return node.name in faults
    if node.kind == "condition":
        return settings[node.name]
    count = sum(values[one >> 1] ^ bool(one & 1) for one in node.inputs)
    if node.kind == "one_of":
        return count == 1
    return count >= max(node.count, 1) if node.kind != "true" else True


def evaluate_many(
    graph: Graph,
    settings: Mapping[str, bool],
    present: Mapping[str, NDArray[np.uint64]],
    words: int,
    wanted: Sequence[int],
) -> dict[int, NDArray[np.uint64]]:
    """The values of some literals under many fault sets at once, 64 sets to a word.

    `present` gives, for each cause, `words` words whose bit i of word w says whether the cause is in
    set 64 w + i (a cause that is missing is in no set). Only the cone of the wanted literals is
    simulated. Returns literal -> `words` words. Bits beyond the last set are unspecified.
    """
    none = np.zeros(words, dtype=np.uint64)
    every = ~none
    values: dict[int, NDArray[np.uint64]] = {}
    for index in cone(graph, wanted):
        node = graph.nodes[index]
        if node.kind == "cause":
            values[index] = present.get(node.name, none)
        elif node.kind in ("condition", "true"):
            values[index] = every if node.kind == "true" or settings[node.name] else none
        else:
            values[index] = _gate_words(node, [_literal_words(values, one) for one in node.inputs])
    return {literal: _literal_words(values, literal) for literal in wanted}


def _literal_words(values: Mapping[int, NDArray[np.uint64]], literal: int) -> NDArray[np.uint64]:
    words = values[literal >> 1]
    return ~words if literal & 1 else words


MANY = 8
"""To count further than this, numbers are kept in binary."""


def _gate_words(node: Node, inputs: Sequence[NDArray[np.uint64]]) -> NDArray[np.uint64]:
    """Bit-sliced counting: `reached[k]` holds the sets in which more than k inputs are true."""
    if node.kind == "at_least" and node.count > MANY:
        return _not_below(_number(inputs), node.count, np.zeros_like(inputs[0]))
    levels = 1 if node.kind == "any" else node.count if node.kind == "at_least" else 2
    reached = [np.zeros_like(inputs[0]) for _ in range(levels)]
    for words in inputs:
        for level in range(levels - 1, 0, -1):
            reached[level] = reached[level] | (reached[level - 1] & words)
        reached[0] = reached[0] | words
    return reached[0] & ~reached[1] if node.kind == "one_of" else reached[-1]


def _number(inputs: Sequence[NDArray[np.uint64]]) -> list[NDArray[np.uint64]]:
    """How many inputs are true in each set, as binary digits, the lowest first."""
    digits: list[NDArray[np.uint64]] = []
    for words in inputs:
        carry = words
        for place, digit in enumerate(digits):
            digits[place], carry = digit ^ carry, digit & carry
        if carry.any():
            digits.append(carry)
    return digits


def _not_below(digits: Sequence[NDArray[np.uint64]], least: int, none: NDArray[np.uint64]) -> NDArray[np.uint64]:
    """The sets in which a number is `least` or more: compared digit by digit, the lowest first."""
    reached = ~none
    for place in range(max(len(digits), least.bit_length())):
        digit = digits[place] if place < len(digits) else none
        reached = digit & reached if least >> place & 1 else digit | reached
    return reached


def cone(graph: Graph, literals: Sequence[int]) -> list[int]:
    """Indices of all nodes that some literals need, their own among them, inputs first."""
    needed = {literal >> 1 for literal in literals}
    for index in range(max(needed, default=-1), -1, -1):
        if index in needed:
            needed.update(one >> 1 for one in graph.nodes[index].inputs)
    return sorted(needed)


def pack(bits: NDArray[np.bool_]) -> NDArray[np.uint64]:
    """Truth values as 64-bit words, the first one in the lowest bit."""
    packed = np.packbits(bits, bitorder="little")
    return np.pad(packed, (0, -len(packed) % 8)).view("<u8").astype(np.uint64)


def unpack(words: NDArray[np.uint64], count: int) -> NDArray[np.bool_]:
    """The first `count` truth values held in some words; the inverse of `pack`."""
    return np.unpackbits(words.astype("<u8").view(np.uint8), count=count, bitorder="little").astype(np.bool_)
