"""Elimination order of a network: least fill first, and the cliques that it makes.

Weighted min-fill with lazy updates (Kjaerulff 1990 compares such greedy orders): the variable whose
neighbours need the lightest new links goes next, ties by the size of the table that it makes. A link
weighs the product of the bits of its two variables, so variables of many values stay apart.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import inf, log2

from faultree.base.errors import FaultreeError


@dataclass(frozen=True, slots=True)
class Clique:
    """Variables joined in one table: `separator` is shared with `parent` (-1 for a root clique).

    `own` are the variables eliminated here; `separator + own` is the clique's scope.
    """

    separator: tuple[int, ...]
    own: tuple[int, ...]
    parent: int


class TooWide(FaultreeError):
    """The network is too wide to be compiled exactly."""


def eliminate(sizes: Sequence[int], scopes: Iterable[Sequence[int]], most: float = inf) -> list[Clique]:
    """The junction tree (a forest, one tree per connected part) of the min-fill order.

    `sizes` gives each variable's number of values, `scopes` the variables of each relation. Raises
    TooWide as soon as the dense table of a clique has more than `most` cells.
    """
    links: list[set[int]] = [set() for _ in sizes]
    for scope in scopes:
        for variable in scope:
            links[variable].update(scope)
    for variable, near in enumerate(links):
        near.discard(variable)
    return _tree(_buckets([log2(max(size, 2)) for size in sizes], links, log2(most)))


def _buckets(weights: Sequence[float], links: list[set[int]], most: float) -> list[tuple[int, set[int]]]:
    """Each variable in elimination order with its neighbours at that moment; `most` bits in all of them."""
    score = [_score(variable, links, weights) for variable in range(len(links))]
    heap = [(*score[variable], variable) for variable in range(len(links))]
    heapq.heapify(heap)
    done: list[tuple[int, set[int]]] = []
    gone = [False] * len(links)
    while heap:
        fill, size, variable = heapq.heappop(heap)
        if gone[variable] or (fill, size) != score[variable]:
            continue
        fresh = _score(variable, links, weights)
        if fresh > (fill, size):  # a lazy entry: links added elsewhere made it dearer meanwhile
            score[variable] = fresh
            heapq.heappush(heap, (*fresh, variable))
            continue
        if size + weights[variable] > most + 1e-9:
            raise TooWide
        gone[variable] = True
        near = links[variable]
        done.append((variable, near))
        for other in near:
            links[other] |= near
            links[other].discard(variable)
            links[other].discard(other)
        for other in near:
            score[other] = _score(other, links, weights)
            heapq.heappush(heap, (*score[other], other))
    return done


def _score(variable: int, links: Sequence[set[int]], weights: Sequence[float]) -> tuple[float, float]:
    """The weight of the links that are missing among the neighbours, and the bits of all neighbours."""
    near = links[variable]
    total = sum([weights[other] for other in near])
    if total == len(near):  # all of them yes/no: counting is faster
        return float(sum([len(near) - 1 - len(near & links[other]) for other in near])), total
    missing = 0.0
    for other in near:
        linked = sum([weights[one] for one in near & links[other]])
        missing += weights[other] * (total - weights[other] - linked)
    return round(missing, 6), total


def _tree(buckets: list[tuple[int, set[int]]]) -> list[Clique]:
    """Buckets to cliques: a bucket whose scope lies within a child's clique is absorbed by it."""
    place = {variable: step for step, (variable, _) in enumerate(buckets)}
    home: dict[int, int] = {}
    separators: list[set[int]] = []
    own: list[list[int]] = []
    waiting: dict[int, list[int]] = {}
    for variable, near in buckets:
        full = len(near) + 1
        host = next((one for one in waiting.pop(variable, ()) if len(separators[one]) == full), None)
        if host is None:
            host = len(own)
            own.append([])
            separators.append(near)
        own[host].append(variable)
        separators[host] = near
        home[variable] = host
        if near:
            waiting.setdefault(min(near, key=place.__getitem__), []).append(host)
    return _numbered(place, home, separators, own)


def _numbered(
    place: dict[int, int], home: dict[int, int], separators: list[set[int]], own: list[list[int]]
) -> list[Clique]:
    cliques = []
    for separator, variables in zip(separators, own, strict=True):
        near = sorted(separator, key=place.__getitem__)
        parent = home[near[0]] if near else -1
        cliques.append(Clique(tuple(near), tuple(variables), parent))
    return cliques
