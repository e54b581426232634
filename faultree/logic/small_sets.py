"""Minimal sets of up to two causes by trying every single and every pair, 64 at a time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

import numpy as np

from faultree.logic.decisions import Question
from faultree.logic.graph import FALSE, TRUE, Graph
from faultree.logic.restrict import Restriction
from faultree.logic.simulate import evaluate_many, unpack

if TYPE_CHECKING:
    from numpy.typing import NDArray

WORDS = 1024
"""About so many words are simulated at once."""


def singles_and_pairs(question: Question) -> list[frozenset[str]]:
    """All minimal sets of at most two causes that make the question true; never two causes of one item.

    A pair is minimal where none of its parts is enough, whatever the logic.
    """
    if question.literal in (TRUE, FALSE):
        return [frozenset()] if question.literal == TRUE else []
    names = question.names
    if _enough(question, [])[0]:
        return [frozenset()]
    alone = _enough(question, names)
    singles = [name for name, enough in zip(names, alone, strict=True) if enough]
    return [*(frozenset([name]) for name in singles), *_pairs(question, frozenset(singles))]


def _enough(question: Question, names: Sequence[str]) -> list[bool]:
    """Whether each cause alone makes the question true; with no names, whether nothing at all does."""
    words = -(-max(len(names), 1) // 64)
    present = {name: _bit(place, words) for place, name in enumerate(names)}
    found = evaluate_many(question.graph, {}, present, words, [question.literal])[question.literal]
    return [bool(one) for one in unpack(found, max(len(names), 1))]


def _bit(place: int, words: int) -> NDArray[np.uint64]:
    row = np.zeros(words, dtype=np.uint64)
    row[place // 64] = np.uint64(1) << np.uint64(place % 64)
    return row


def _pairs(question: Question, singles: frozenset[str]) -> Iterator[frozenset[str]]:
    """Pairs without a single that is enough, in what is left of the graph when those are absent."""
    graph = Graph()
    literal = Restriction(question.graph, graph, dict.fromkeys(singles, False)).literal(question.literal)
    if literal in (TRUE, FALSE):
        return
    group = {name: number for number, names in enumerate(question.groups) for name in names}
    names = [name for name in group if name not in singles]
    width = -(-len(names) // 64)
    rows = max(1, WORDS // width)
    for start in range(0, len(names), rows):
        firsts = names[start : start + rows]
        present = {name: np.tile(_bit(place, width), len(firsts)) for place, name in enumerate(names)}
        for number, name in enumerate(firsts):
            present[name] = present[name].copy()
            present[name][number * width : (number + 1) * width] = ~np.uint64(0)
        found = evaluate_many(graph, {}, present, width * len(firsts), [literal])[literal]
        bits = unpack(found, 64 * width * len(firsts)).reshape(len(firsts), -1)[:, : len(names)]
        for one, two in np.argwhere(bits).tolist():
            if two > start + one and group[names[two]] != group[firsts[one]]:
                yield frozenset((firsts[one], names[two]))
