"""The numbered steps and ends of a troubleshooting chart, as frozen values."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Literal

from faultree.library.model import Who

Goal = Literal["cause", "item", "restore"]
Action = Literal["check", "replace"]
Ending = Literal["found", "open", "restored", "continue"]
"""How a branch ends: told apart; no check left (or cut off) with several still open; the report is gone; another
person (`by`) goes on."""

GONE = "gone"
"""The answer of a `replace` step whose operational check no longer shows the report."""

STILL = "still"
"""The answer of a `replace` step whose operational check still shows the report."""

STRANGE = "No suspect gives the answer that leads here. Go on from the answers so far without the chart."
"""What is said where an answer came that is right for none of the suspects."""

DOUBTED = "With these answers another fault is likelier. Go on from the answers so far without the chart."
"""What is said where the suspects of the chart are no longer what one should think of first."""


def mender(by: Collection[Who]) -> Who:
    """Who puts something right in a chart for some people.

    A decision, as a tree file says who checks and not who replaces: what is fitted to the aircraft is replaced there,
    by the line (as a check that names nobody is), and by the shop where the chart is for the shop without the line.

    >>> mender(("crew", "line", "shop")), mender(("shop",))
    ('line', 'shop')
    """
    return "shop" if "shop" in by and "line" not in by else "line"


@dataclass(frozen=True, slots=True)
class Open:
    """A suspect that is still open at a node: a cause, its item (None without one), P(cause / path to here)."""

    cause: str
    item: str | None
    probability: float


@dataclass(frozen=True, slots=True)
class Exit:
    """One answer of a step: its id and wording, P(answer / path to here), and the number of the node it leads to."""

    answer: str
    text: str
    probability: float
    to: int


@dataclass(frozen=True, slots=True)
class Step:
    """Something to do: a check, or (goal `restore`) an item replaced and the operational check repeated.

    `target` is the check's full id, or the unit's (item, or cause without one). `minutes` is what the step costs
    here, the access `opens` newly included. `probability` is P(a walk of the chart comes here).
    """

    number: int
    action: Action
    target: str
    title: str
    ask: str
    by: Who
    minutes: float
    opens: tuple[str, ...]
    cautions: tuple[str, ...]
    probability: float
    open: tuple[Open, ...]
    exits: tuple[Exit, ...]


@dataclass(frozen=True, slots=True)
class End:
    """Where a branch ends: what is found, in which manual, and what to do then.

    `units` are the items (or causes without one) to put right, most likely first; `causes` what remains open,
    most likely first. `cut` says that the branch was cut off as too unlikely, though more could have been told apart.
    Where that happens on the way to `restore`, `units` are put right in their order, and `minutes` (mean) and `worst`
    say how long that takes until the reports are gone; elsewhere both are 0.
    """

    number: int
    ending: Ending
    units: tuple[str, ...]
    causes: tuple[Open, ...]
    manual: tuple[str, ...]
    cautions: tuple[str, ...]
    probability: float
    say: str
    cut: bool = False
    minutes: float = 0.0
    worst: float = 0.0

    @property
    def strange(self) -> bool:
        """Whether the branch was cut off because an answer came that no suspect gives."""
        return self.cut and self.say == STRANGE

    @property
    def doubted(self) -> bool:
        """Whether the branch was cut off because another fault than those of the chart is likelier there."""
        return self.cut and self.say == DOUBTED
