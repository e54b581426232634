"""What must hold of a junction tree and its tables, asserted in one place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from faultree.belief.order import Clique


def check_junction_tree(sizes: Sequence[int], scopes: Iterable[Sequence[int]], cliques: Sequence[Clique]) -> None:
    """The whole invariant of a junction forest.

    Every variable is eliminated once; every relation fits into a clique; a separator lies within the
    parent's clique and what is eliminated does not; following parents ends at a root; and the cliques
    that hold a variable hang together (the running intersection property).
    """
    owned = [variable for clique in cliques for variable in clique.own]
    assert sorted(owned) == list(range(len(sizes)))
    held = [{*clique.separator, *clique.own} for clique in cliques]
    for clique, inside in zip(cliques, held, strict=True):
        assert len(inside) == len(clique.separator) + len(clique.own)
        assert clique.own
        assert (clique.parent < 0) == (not clique.separator)
        if clique.parent >= 0:
            assert set(clique.separator) <= held[clique.parent]
            assert not set(clique.own) & held[clique.parent]
    for scope in scopes:
        assert any(set(scope) <= one for one in held), f"no clique holds {tuple(scope)}"
    for number in range(len(cliques)):
        assert ends_at_a_root(cliques, number)
    for variable in range(len(sizes)):
        check_hangs_together(cliques, held, variable)


def ends_at_a_root(cliques: Sequence[Clique], number: int) -> bool:
    """Whether following parents from this clique leads out of the forest, and not round and round."""
    for _ in cliques:
        if number < 0:
            return True
        number = cliques[number].parent
    return number < 0


def check_hangs_together(cliques: Sequence[Clique], held: Sequence[set[int]], variable: int) -> None:
    """Of the cliques that hold a variable all but one have a parent that holds it too."""
    holding = [number for number, scope in enumerate(held) if variable in scope]
    tops = [number for number in holding if cliques[number].parent not in holding]
    assert len(tops) == 1, f"variable {variable} is in {holding}, which do not hang together"
    assert variable in cliques[tops[0]].own
