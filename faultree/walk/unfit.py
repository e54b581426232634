"""The parts of a saved case that the tree has no place for any more, in words."""

from __future__ import annotations

from faultree.walk.state import Unfit
from faultree.walk.titles import said

NAMED = ("title", "check", "repair", "symptom", "access", "tool", "caution", "unit")
"""The keys under which a part names what it is about, the author's words first."""


def unfit_words(one: Unfit) -> str:
    """What was kept and why it does not fit: "Look at the lamp: Lit (the check is no longer in the tree)"."""
    return f"{_what(one)} ({one.because})"


def _what(one: Unfit) -> str:
    data = {key: value for key, value in one.data.items() if isinstance(value, str)}
    name = next((data[key] for key in NAMED if key in data), "something")
    if "repair" in one.data:
        return f"Put right: {name}"
    found = data.get("found", data.get("answer", "cannot tell")) if "check" in one.data and "answer" in one.data else ""
    asked = f"{name}: {data['asked']}" if "asked" in data else name
    return said(asked, found) if found else name
