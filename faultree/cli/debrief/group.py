"""The group `debrief`: alone it begins a case; a word of its own goes on with one, ends one, or prints its sheet."""

from __future__ import annotations

import click

from faultree.cli.lazy import LazyGroup

TOOLS = {
    "begin": "begin",
    "continue": "continuing",
    "add": "wording",
    "correct": "wording",
    "withdraw": "wording",
    "flight": "flight",
    "end": "ending",
    "reopen": "ending",
    "sheet": "sheet",
}
"""The commands below `debrief`, and the module that each stands in."""


ELSEWHERE = {
    "list": "'faultree journal list' lists the cases",
    "show": "'faultree journal show CASE' shows a case with its log",
}
"""Words that are commands of the journal."""


def _instead(word: str) -> str:
    if word.isdecimal():
        return f"'faultree debrief continue {word}' goes on with case {word}"
    return ELSEWHERE.get(word, "")


@click.group(
    "debrief",
    cls=LazyGroup,
    package="faultree.cli.debrief",
    modules=TOOLS,
    default="begin",
    words=False,
    instead=_instead,
)
def command() -> None:
    """Debrief a crew: their words become a case that the line can go on with.

    'faultree debrief' begins one ('faultree debrief begin --help' lists its options).
    """
