"""Plain data to the text of a tree file, for generators that write libraries."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

Plain = str | bool | int | float | Sequence["Plain"] | Mapping[str, "Plain"]


def flow(value: Plain) -> str:
    """A value in YAML's flow style; truth values as the format writes them, texts without quotes.

    >>> flow({"reads": "pump", "sets": {"armed": True}, "minutes": 2.5, "access": ["bay"]})
    '{reads: pump, sets: {armed: yes}, minutes: 2.5, access: [bay]}'
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key}: {flow(inner)}" for key, inner in value.items()) + "}"
    return "[" + ", ".join(map(flow, value)) + "]"


def document(title: str, sections: Mapping[str, Mapping[str, Plain]]) -> str:
    """The text of one tree file, one entry a line; empty sections are left out.

    >>> print(document("Small", {"causes": {"dead": {"title": "Dead"}}, "items": {}}), end="")
    faultree: 1
    title: Small
    causes:
      dead: {title: Dead}
    """
    lines = ["faultree: 1", f"title: {title}"]
    for section, entries in sections.items():
        if entries:
            lines.append(f"{section}:")
            lines.extend(f"  {name}: {flow(entry)}" for name, entry in entries.items())
    return "\n".join(lines) + "\n"
