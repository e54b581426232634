"""The answer to "why": the case's own reasons, under the title of what was asked about."""

from __future__ import annotations

from faultree.strategy.case import Case
from faultree.walk import names, titles
from faultree.walk.state import CheckStep, Explained, Walk

CAUSES = 3
"""Of an item, so many causes are explained, the likeliest first."""


def explain(walk: Walk, typed: str) -> Explained:
    """Why a cause, item or check is where it is in this case; nothing typed means the step on view."""
    case = walk.open_case
    name = names.in_case(case, typed) if typed.strip() else _on_view(walk)
    return Explained(titles.title(case.library, name), sentences(case, name))


def sentences(case: Case, name: str) -> tuple[str, ...]:
    """The reasons for one cause or check, or for an item those of its likeliest causes."""
    if name not in case.library.items:
        return case.why(name)
    causes = [suspect.cause for suspect in case.ranking() if suspect.item == name and suspect.implicated]
    if not causes:
        return ("Nothing in this case points to it.",)
    return tuple(sentence for cause in causes[:CAUSES] for sentence in case.why(cause))


def _on_view(walk: Walk) -> str:
    """The step on view, else the likeliest suspect."""
    if isinstance(walk.pending, CheckStep):
        return walk.pending.check
    if walk.pending is not None:
        return walk.pending.unit
    return walk.open_case.ranking()[0].cause
