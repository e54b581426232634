"""The scale behind ordinal likelihoods, for the line that stands beside results that rest on it."""

from __future__ import annotations

from collections.abc import Iterable

from faultree.library.model import Library
from faultree.strategy.case import Case


def scale(case: Case) -> str:
    """The bands and their weights as one line; empty where no suspect's likelihood rests on a band."""
    return bands(case.library, (one.cause for one in case.ranking() if one.implicated))


def bands(library: Library, causes: Iterable[str]) -> str:
    """The same for some causes."""
    if not any(library.causes[name].likelihood.band for name in causes):
        return ""
    weights = ", ".join(f"{band} {weight:g}" for band, weight in library.bands.items())
    return f"Likelihood bands (this library's own weights): {weights}."
