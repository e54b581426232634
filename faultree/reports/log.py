"""A step in the log of a case in words."""

from __future__ import annotations

from collections.abc import Mapping

from faultree.base.words import listing
from faultree.walk.titles import OUTCOMES


def said(data: Mapping[str, object]) -> str:
    """A step of the walk in words, as they were when it was made; empty where the entry tells of none.

    >>> said({"check": "s/look", "answer": None, "title": "look at the lamp"})
    'look at the lamp: cannot tell'
    >>> said({"taken_back": {"repair": "s/pump", "gone": False}})
    'taken back: put right: s/pump: the symptom is still there'
    """
    for key, lead in (("taken_back", "taken back: "), ("contradicts", "contradicts the other answers: ")):
        step = data.get(key)
        if isinstance(step, Mapping):
            return lead + said(step)
    if "check" in data:
        answer = data.get("answer")
        return f"{data.get('title', data['check'])}: {'cannot tell' if answer is None else data.get('found', answer)}"
    if "repair" in data:
        gone = data.get("gone")
        return f"put right: {data.get('title', data['repair'])}: {OUTCOMES[gone if isinstance(gone, bool) else None]}"
    return _beside(data)


def _beside(data: Mapping[str, object]) -> str:
    """What was recorded beside answers and repairs."""
    if "also" in data:
        return f"also reported: {data.get('title', data['also'])}"
    if "by" in data:
        people = data["by"]
        named = listing(f"the {one}" for one in people) if isinstance(people, list) and people else "anyone"
        return f"checks by {named} from here on"
    if "note" in data:
        return f"noted: {data['note']}"
    if "seen" in data:
        return "the symptom was seen again" if data["seen"] else "the symptom could not be seen again"
    if "missing" in data:
        return f"not available: {data['missing'] or 'nothing any more'}"
    if "closed" in data:
        return f"closed or taken out again: {data['closed']}"
    if "locks" in data:
        return f"cautions read; to be done afterwards: {data['locks']}"
    return ""
