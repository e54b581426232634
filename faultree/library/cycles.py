"""Finds cycles in a graph, without recursion, so that a chain of any length is checked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence


def cycles(graph: Mapping[str, Sequence[str]]) -> list[tuple[str, ...]]:
    """Cycles of which at least one edge must go, each begun where it was met first.

    Without one edge of each of them the graph has no cycle. Edges to names that are no key of the
    graph are passed over. Depth-first search: every edge back into the path under way closes one
    cycle, and a graph is acyclic when there is no such edge (Cormen et al., Introduction to
    Algorithms, lemma 22.11 in the third edition, from memory).

    >>> cycles({"a": ["b"], "b": ["c", "b"], "c": ["a"]})
    [('a', 'b', 'c'), ('b',)]
    """
    found: list[tuple[str, ...]] = []
    done: set[str] = set()
    for start in graph:
        if start not in done:
            _search(graph, start, done, found)
    return found


def _search(graph: Mapping[str, Sequence[str]], start: str, done: set[str], found: list[tuple[str, ...]]) -> None:
    path = [start]
    depth = {start: 0}
    pending = [iter(graph[start])]
    while path:
        step = next(pending[-1], None)
        if step is None:
            pending.pop()
            last = path.pop()
            del depth[last]
            done.add(last)
        elif step in depth:
            if len(found) < MOST:
                found.append(tuple(path[depth[step] :]))
        elif step in graph and step not in done:
            depth[step] = len(path)
            path.append(step)
            pending.append(iter(graph[step]))


MOST = 50
"""Most cycles that are listed; a graph with more has them mended first."""
