"""The nodes of a library as a graph of the networkx package, for anyone's own analysis, and as texts of it."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from faultree.library.exchange.written import Exported
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


def cone_of(library: Library, symptom: str) -> networkx.DiGraph[str]:
    """The part of the graph that a symptom (full id) rests on; the nodes that it sees say yes or no as `seen`.

    The graph's own attributes are the `symptom`, its `title` and its `situation`.
    """
    import networkx

    entry = library.symptoms[symptom]
    whole = graph_of(library)
    below = {name for seen, _ in entry.sees for name in (seen, *networkx.ancestors(whole, seen))}
    graph = whole.copy()
    graph.remove_nodes_from([name for name in whole if name not in below])
    graph.graph.update(symptom=symptom, title=entry.title, situation=entry.situation or "")
    for name, value in entry.sees:
        graph.nodes[name]["seen"] = "yes" if value else "no"
    return graph


def graph_text(library: Library, symptom: str | None, form: str) -> Exported:
    """The graph, or the part below a symptom (full id), as `graphml` or as node-link data in `json`."""
    import networkx

    graph = graph_of(library) if symptom is None else cone_of(library, symptom)
    if form == "json":
        return Exported(json.dumps(networkx.node_link_data(graph, edges="edges"), indent=2) + "\n", (_LOSS,))
    for _, attributes in graph.nodes(data=True):
        # GraphML has no value for "nothing".
        for key in [key for key, value in attributes.items() if value is None]:
            del attributes[key]
    lines = networkx.generate_graphml(graph)
    return Exported("\n".join(['<?xml version="1.0" encoding="UTF-8"?>', *lines, ""]), (_LOSS,))


_LOSS = "A graph says what uses what, and not by which gate; for the logic, write --to open-psa."
