"""What a rule is given, and what it hands back."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from faultree.base.words import listing
from faultree.belief.frame import Frame, frame_of
from faultree.strategy.lint.oracle import LIMITS, Oracle
from faultree.strategy.lint.telling import Telling

if TYPE_CHECKING:
    from faultree.belief.engine import Limits
    from faultree.library.model import Entry, Library


class Found(NamedTuple):
    """Something that a rule found at an entry.

    `partners` are entries that share in it: a silence at one of them is as good. `undecided` says that
    the rule could not decide, because the logic is too wide for the exact engine.
    """

    entry: Entry
    message: str
    hint: str
    partners: tuple[Entry, ...] = ()
    undecided: bool = False


@dataclass(frozen=True, eq=False)
class Study:
    """A library under study, with what several rules need of it, worked out once."""

    library: Library
    limits: Limits = LIMITS

    @property
    def frame(self) -> Frame:
        """The graph of the library, with the literals of reports and answers."""
        return frame_of(self.library)

    @cached_property
    def oracle(self) -> Oracle:
        """Decides exactly what can be."""
        return Oracle(self.library, self.limits)

    @cached_property
    def telling(self) -> Telling:
        """Which causes have a part in which reports, and which checks tell of them."""
        return Telling(self.oracle)


def undecided(entry: Entry, question: str) -> Found:
    """Says that the exact engine cannot answer a question within its limits."""
    message = f"cannot be decided: {question}"
    return Found(entry, message, "the logic is too wide: part it into narrower signals", undecided=True)


def called(entry: Entry) -> str:
    """An entry as the subject of a sentence.

    >>> from faultree.library.model import Check
    >>> called(Check(id="s/look", title="look", answers=()))
    "check 'look'"
    """
    return f"{type(entry).__name__.lower()} '{entry.id.partition('/')[2] or entry.id}'"


def name_in(entry: Entry, full: str) -> str:
    """The id by which an entry's file calls something: short for its own.

    >>> from faultree.library.model import Check
    >>> check = Check(id="s/look", title="look", answers=())
    >>> name_in(check, "s/a"), name_in(check, "t/a")
    ("'a'", "'t/a'")
    """
    system, _, short = full.partition("/")
    return f"'{short if system == entry.system else full}'"


def names_in(entry: Entry, names: Iterable[str]) -> str:
    """Several ids in words, as an entry's file calls them."""
    return listing(name_in(entry, name) for name in names)


def faults_in(entry: Entry, faults: Iterable[str]) -> str:
    """A fault set in words.

    >>> from faultree.library.model import Check
    >>> check = Check(id="s/look", title="look", answers=())
    >>> faults_in(check, ()), faults_in(check, ["s/b"]), faults_in(check, ["t/b", "s/a"])
    ('with nothing wrong', "with 'b'", "with 'a' and 't/b' together")
    """
    names: Sequence[str] = sorted(faults)
    if not names:
        return "with nothing wrong"
    return f"with {names_in(entry, names)}{' together' if len(names) > 1 else ''}"


def where(entry: Entry, situation: str | None) -> str:
    """The situation in words, for the end of a statement.

    >>> from faultree.library.model import Check
    >>> where(Check(id="s/look", title="look", answers=()), "t/parked")
    "in situation 't/parked'"
    """
    return "with all as usual" if situation is None else f"in situation {name_in(entry, situation)}"
