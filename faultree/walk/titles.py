"""What ids and steps are called in words: the author's titles, and a step as a short sentence."""

from __future__ import annotations

from faultree.belief.evidence import Repair, Reply
from faultree.library.model import Library

OUTCOMES = {
    True: "the symptom is gone",
    False: "the symptom is still there",
    None: "cannot tell whether the symptom is gone",
}
"""What came of putting something right."""


def unit_title(library: Library, unit: str) -> str:
    """The title of a unit: an item, or a cause that belongs to no item."""
    return library.items[unit].title if unit in library.items else library.causes[unit].title


def title(library: Library, name: str) -> str:
    """The title of a check, cause, item or symptom with this full id; the id itself where there is none."""
    for table in (library.checks, library.causes, library.items, library.symptoms):
        if name in table:
            return table[name].title
    return name


def step_words(library: Library, step: Reply | Repair) -> tuple[str, str]:
    """A step of a case as its title and its outcome: ("Look at the lamp", "It is lit").

    The question stands behind the title where the outcome alone could mean anything: ("Look at the lamp: Is it lit?",
    "Yes").
    """
    if isinstance(step, Reply):
        check = library.checks[step.check]
        outcome = "cannot tell" if step.answer is None else check.answer(step.answer).text
        return check.asked(step.answer), outcome
    return f"Put right: {unit_title(library, step.unit)}", OUTCOMES[step.gone]


def sentence(library: Library, step: Reply | Repair) -> str:
    """A step of a case on one line: "Look at the lamp: It is lit", "Look at the lamp: Is it lit? Yes"."""
    return said(*step_words(library, step))


def said(asked: str, outcome: str) -> str:
    """What was asked or done and its outcome on one line.

    >>> said("Look at the lamp", "It is lit"), said("Look at the lamp: Is it lit?", "Yes")
    ('Look at the lamp: It is lit', 'Look at the lamp: Is it lit? Yes')
    """
    return f"{asked} {outcome}" if asked.endswith("?") else f"{asked}: {outcome}"
