"""Words for a node that is lost, forced, or otherwise than it stands, from the author's title."""

from __future__ import annotations

from faultree.library.model import Event, Signal


def title_of(entry: Signal | Event, value: bool, usual: bool) -> str:
    """The title of a node that has a value, beside the one it has while nothing is wrong."""
    if isinstance(entry, Event) or value == usual:
        return entry.title if value else denied(entry.title)
    return f"{entry.title} when it should not be" if value else f"{entry.title} is missing"


def denied(title: str) -> str:
    """A title turned around, where what it says is not so."""
    return f"not so: {title}"
