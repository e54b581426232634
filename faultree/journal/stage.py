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
    return "match" if unmatched(record) else "walk"


def unmatched(record: Record) -> tuple[int, ...]:
    """The squawks about which nobody has said yet what they mean ("none of these" is an answer)."""
    said = {one.data.get("squawk") for one in record.entries if one.kind == "matched"}
    return tuple(one.number for one in record.squawks if one.number not in said)


def walked(record: Record) -> Mapping[str, Any] | None:
    """The walk of the case as it was kept after its last step; None before the first."""
    kept: Mapping[str, Any] | None = None
    for one in record.entries:
        walk = one.data.get("walk")
        if one.kind == "event" and isinstance(walk, dict):
            kept = walk
    return kept
