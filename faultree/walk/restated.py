"""A kept walk on other reports than it was begun with: what was answered stays, as far as it can be true with them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from faultree.library.model import Library
from faultree.walk import saved
from faultree.walk.fitting import CONTRADICTS
from faultree.walk.state import Unfit, Walk

AGAINST = "it cannot be true together with the reports as they are understood now"
"""Why a step is kept and counts for nothing."""


def restated(library: Library, kept: Mapping[str, object], symptoms: Sequence[str]) -> Walk:
    """The walk, at its notice, on these reports; a step that contradicts them is kept and counts for nothing.

    A step that was kept so before is tried again. Raises CaseError where the reports fit nothing.
    """
    # As if the tree had changed: then every step is fitted in by itself, and what does not fit is kept.
    walk = saved.unpack(library, {**kept, "symptoms": list(symptoms), "library": ""})
    if kept.get("library") != library.digest:
        return walk
    return replace(walk, unfit=tuple(map(_because, walk.unfit)), changes=())


def _because(one: Unfit) -> Unfit:
    return replace(one, because=AGAINST) if one.because == CONTRADICTS else one
