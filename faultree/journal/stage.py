"""How far a debrief has come, from its record alone: so a case that was broken off goes on at the right question."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from faultree.journal.records import Record

Stage = Literal["words", "match", "walk", "ended"]
"""What is asked next: the crew's words, which symptom a squawk means, checks, or nothing more."""


def stage_of(record: Record) -> Stage:
    """What is asked next in a case."""
    if record.head.state != "open":
        return "ended"
    if not record.squawks:
        return "words"
    return "match" if record.unmatched else "walk"


def unmatched(record: Record) -> tuple[int, ...]:
    """The squawks about which nobody has said yet what they mean ("none of these" is an answer)."""
    return record.unmatched


def walked(record: Record) -> Mapping[str, Any] | None:
    """The walk of the case as it was kept last; None before its first step, and where it has no report any more."""
    kept: Mapping[str, Any] | None = None
    for one in record.entries:
        if one.kind == "event" and "walk" in one.data:
            walk = one.data["walk"]
            kept = walk if isinstance(walk, dict) else None
    return kept


def last_walk(record: Record) -> Mapping[str, Any] | None:
    """The walk as it was when it had a report: what a case goes on with where a report comes back."""
    walks = (one.data.get("walk") for one in reversed(record.entries) if one.kind == "event")
    return next((walk for walk in walks if isinstance(walk, dict)), None)
