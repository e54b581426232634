"""What stands on the page of a troubleshooting chart, as frozen values: its head, numbered steps and ends."""

from __future__ import annotations

from dataclasses import dataclass

from faultree.library.model import Who
from faultree.walk.prompt import CautionLine, Reported


@dataclass(frozen=True, slots=True)
class OpenLine:
    """What may still be wrong: titles with probabilities, and how many more there are."""

    named: tuple[tuple[str, float], ...]
    more: int


@dataclass(frozen=True, slots=True)
class Way:
    """One answer: its wording, how likely it is here, the number to go to, and what is found there if that ends it.

    `to` None: the branch was cut off, and one has to leave the chart; `found` then says what is likeliest.
    """

    text: str
    probability: float
    to: int | None
    found: str


@dataclass(frozen=True, slots=True)
class StepBlock:
    """One numbered step; `come_from` are the numbers that lead here, `never` answers that would contradict the way."""

    number: int
    come_from: tuple[int, ...]
    probability: float
    replaces: bool
    title: str
    takes: str
    by: Who
    cautions: tuple[CautionLine, ...]
    facts: tuple[tuple[str, str], ...]
    open: OpenLine
    ask: str
    ways: tuple[Way, ...]
    never: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EndBlock:
    """One numbered end: what is found, the cautions before it is put right, what to do, and the line to hand over."""

    number: int
    come_from: tuple[int, ...]
    probability: float
    headline: str
    facts: tuple[tuple[str, str], ...]
    cautions: tuple[CautionLine, ...]
    do: str
    afterwards: tuple[str, ...]
    handover: str


Block = StepBlock | EndBlock


@dataclass(frozen=True, slots=True)
class ChartPage:
    """The whole page; `proof` says what the chart costs and how little any chart could."""

    title: str
    reported: tuple[Reported, ...]
    proof: str
    facts: tuple[tuple[str, str], ...]
    notice: str
    use: tuple[str, ...]
    authorities: tuple[tuple[str, str], ...]
    scale: str
    blocks: tuple[Block, ...]
