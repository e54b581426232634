"""What the figures rest on, for the line that stands beside every result: ordinal likelihoods, and history in use."""

from __future__ import annotations

from collections.abc import Iterable

from faultree.library.model import Library
from faultree.strategy.case import Case


def scale(case: Case) -> str:
    """The bands and their weights as one line, where a suspect rests on a band; and the history, where one is used."""
    return bands(case.library, (one.cause for one in case.ranking() if one.implicated))


def bands(library: Library, causes: Iterable[str]) -> str:
    """The same for some causes."""
    if not any(library.causes[name].likelihood.band for name in causes):
        return library.history
    weights = ", ".join(f"{band} {weight:g}" for band, weight in library.bands.items())
    words = f"Likelihood bands (this library's own weights): {weights}."
    return f"{words} {library.history}" if library.history else words
