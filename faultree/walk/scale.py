"""The scale behind ordinal likelihoods, for the line that stands beside results that rest on it."""

from __future__ import annotations

from faultree.strategy.case import Case


def scale(case: Case) -> str:
    """The bands and their weights as one line; empty where no suspect's likelihood rests on a band."""
    causes = case.library.causes
    banded = any(one.implicated and causes[one.cause].likelihood.band for one in case.ranking())
    if not banded:
        return ""
    weights = ", ".join(f"{band} {weight:g}" for band, weight in case.library.bands.items())
    return f"Likelihood bands (this library's own weights): {weights}."
