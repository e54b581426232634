"""The nodes of a library as a graph of the networkx package, for anyone's own analysis."""

from __future__ import annotations

from typing import TYPE_CHECKING

from faultree.library.model import Cause, refs
from faultree.logic.graph import operands

if TYPE_CHECKING:
    import networkx

    from faultree.library.model import Event, Library, Signal


def graph_of(library: Library) -> networkx.DiGraph[str]:
    """Conditions, causes, signals and events by full id; an edge leads from what is used to what uses it.

    networkx is imported here, not above: it is slow to load, and the commands do without it.
    """
    import networkx

    graph: networkx.DiGraph[str] = networkx.DiGraph()
    for table in (library.conditions, library.causes, library.signals, library.events):
        for name, node in table.items():
            graph.add_node(name, kind=type(node).__name__.lower(), title=node.title, system=node.system)
            if isinstance(node, Cause):
                graph.nodes[name].update(probability=node.probability, item=node.item)
    gated: list[tuple[str, Signal | Event]] = [*library.signals.items(), *library.events.items()]
    for name, entry in gated:
        used = {ref.id for operand in operands(entry) for ref in refs(operand)}
        graph.add_edges_from((one, name) for one in sorted(used))
    return graph
