"""What a face shows in each phase, as frozen values: titles are the author's, numbers the engine's."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from faultree.walk.effort import Effort
from faultree.walk.events import Event
from faultree.walk.state import Reason
from faultree.walk.table import Phase

NOTICE = (
    "faultree only helps to find a fault. The approved maintenance manual and a licensed engineer decide "
    "what is done on the aircraft, and they have the last word."
)
"""The notice that every face shows in full once, and in short wherever an action is proposed."""

SHORT_NOTICE = "The approved manual and a licensed engineer decide."

Kind = Literal[
    "symptom", "acknowledge", "answer", "cannot tell", "check", "replace", "retest", "look again", "carry on", "back",
    "available", "closed",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class SuspectLine:
    """One suspect: probability now, and before the last answer (None where there was none)."""

    cause: str
    title: str
    item: str
    place: str
    probability: float
    before: float | None = None


@dataclass(frozen=True, slots=True)
class Together:
    """Several faults that explain the case only together."""

    titles: tuple[str, ...]
    probability: float


@dataclass(frozen=True, slots=True)
class Change:
    """What the last step changed: its title and outcome, whom it excluded (by title), and whether anything moved.

    Without an outcome it was no step, but a further report that came in. `unlikely` is the chance that an answer had
    which moved nothing and yet was not to be expected; 1.0 for any other.
    """

    title: str
    outcome: str
    excluded: tuple[str, ...]
    moved: bool
    unlikely: float = 1.0


@dataclass(frozen=True, slots=True)
class Suspects:
    """The suspects worth a line, how many more there are and the probability that none of those exceeds."""

    lines: tuple[SuspectLine, ...]
    more: int
    at_most: float
    change: Change | None
    together: tuple[Together, ...]
    bound: float


@dataclass(frozen=True, slots=True)
class CautionLine:
    """A caution before a step, and whether it was acknowledged in this walk."""

    id: str
    level: str
    text: str
    read: bool


@dataclass(frozen=True, slots=True)
class AccessLine:
    """Work to get at something: its minutes, and whether it has been done in this case."""

    title: str
    minutes: float
    open: bool


@dataclass(frozen=True, slots=True)
class CheckView:
    """A check as it is put to a person; `effort` holds its minutes, with the access that is still to be opened.

    `missing` is what it needs and is not there today.
    """

    check: str
    title: str
    ask: str
    situation: str
    effort: Effort
    access: tuple[AccessLine, ...]
    by: str
    manual: str
    tools: tuple[str, ...]
    note: str
    places: tuple[tuple[str, str], ...]
    why: str
    bits: float
    expected_minutes: float | None
    cautions: tuple[CautionLine, ...]
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RepairView:
    """A replacement as it is put to a person; `retests` are the operational checks that follow, in `effort` too.

    `missing` is what it needs and is not there today, `unseen` whether the symptom could not be seen again before,
    `away` the situations of the reports that no check on the aircraft sets up.
    """

    unit: str
    title: str
    place: str
    effort: Effort
    access: tuple[AccessLine, ...]
    manual: str
    probability: float
    causes: tuple[SuspectLine, ...]
    retests: tuple[tuple[str, float], ...]
    expected_minutes: float | None
    cautions: tuple[CautionLine, ...]
    missing: tuple[str, ...] = ()
    unseen: bool = False
    away: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Leaves:
    """What an answer would leave: its probability, the likeliest suspects after it, and how many it excludes.

    `moved` is the most by which any suspect's probability would change.
    """

    probability: float
    first: tuple[tuple[str, float], ...]
    excluded: int
    kept: int
    moved: float = 1.0


@dataclass(frozen=True, slots=True)
class Choice:
    """One numbered choice (numbers count from 1 through all choices of a prompt) and the event it stands for.

    `minutes` of a check or replacement are the whole of its effort (`faultree.walk.effort`).
    `waits`: it needs what is not available today. `if_wrong` belongs to answers that contradict each other: the
    likeliest suspect (title and probability) if this one is the wrong one.
    """

    kind: Kind
    event: Event
    text: str
    detail: str = ""
    minutes: float | None = None
    bits: float | None = None
    expected_minutes: float | None = None
    probability: float | None = None
    by: str = ""
    cautions: bool = False
    leaves: Leaves | None = None
    if_wrong: tuple[str, float] | None = None
    waits: bool = False


@dataclass(frozen=True, slots=True)
class SystemLine:
    """One system of the library: its title, what it is, and the choices of its symptoms."""

    title: str
    summary: str
    chapter: str
    choices: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class ReportPrompt:
    """Asks what was reported."""

    systems: tuple[SystemLine, ...]
    choices: tuple[Choice, ...]
    phase: Phase = Phase.REPORT


@dataclass(frozen=True, slots=True)
class Reported:
    """A reported symptom, the situation it was seen in, and where the manual speaks of it."""

    title: str
    situation: str
    manual: str
    note: str


@dataclass(frozen=True, slots=True)
class NoticePrompt:
    """Shows the notice, what was reported and which approved data has the last word.

    For a case taken up: what was done, noted and left out, and what changed in the tree since.
    """

    reported: tuple[Reported, ...]
    authorities: tuple[tuple[str, str], ...]
    steps: tuple[tuple[str, str], ...]
    remarks: tuple[str, ...]
    scale: str
    choices: tuple[Choice, ...]
    records: tuple[str, ...] = ()
    changes: tuple[str, ...] = ()
    phase: Phase = Phase.NOTICE


@dataclass(frozen=True, slots=True)
class StepPrompt:
    """Shows the suspects and the next step: its cautions to acknowledge, or its question.

    `charted` says which step of a chart it is, where one is followed; `left_out` what is not available today,
    `unseen` that the symptom could not be seen again, `history` that the figures rest on earlier findings too, and
    `only` whose checks are proposed, where that is not anyone's. `maybe_gone` says how likely the symptom is gone
    already, where nobody could tell what a repair did.
    """

    phase: Phase
    number: int
    minutes: float
    reported: tuple[str, ...]
    suspects: Suspects
    step: CheckView | RepairView
    choices: tuple[Choice, ...]
    charted: str = ""
    left_out: tuple[str, ...] = ()
    unseen: bool = False
    history: str = ""
    only: str = ""
    maybe_gone: str = ""


@dataclass(frozen=True, slots=True)
class ListPrompt:
    """Lists the checks that tell something, most bits first, and the units under suspicion, likeliest first.

    `silent` checks that tell nothing now and `unlikely` units are only counted; behind the steps stands what is
    not available today. `only` says whose checks are listed, where that is not anyone's.
    """

    choices: tuple[Choice, ...]
    silent: int
    unlikely: int
    only: str = ""
    phase: Phase = Phase.LIST


@dataclass(frozen=True, slots=True)
class ConflictPrompt:
    """Shows the answers that cannot all be true, the likeliest wrong one first."""

    newest: tuple[str, str]
    alone: bool
    choices: tuple[Choice, ...]
    phase: Phase = Phase.CONFLICT


@dataclass(frozen=True, slots=True)
class UnitLine:
    """A unit with its probability, where it is, and where the manual speaks of it."""

    unit: str
    title: str
    place: str
    manual: str
    probability: float


@dataclass(frozen=True, slots=True)
class EndPrompt:
    """Sums up: why the search is over, the likely units, what is not excluded, and the hand-over text.

    `waits`: checks that would tell more are left out today; `left_open`: something has to be closed or taken out;
    `others_tell`: checks of others than these people (in words) would tell more; `maybe_gone` as in a `StepPrompt`.
    """

    reason: Reason
    minutes: float
    likely: tuple[UnitLine, ...]
    others: tuple[UnitLine, ...]
    more: int
    together: tuple[Together, ...]
    handover: tuple[str, ...]
    cautions: tuple[CautionLine, ...]
    choices: tuple[Choice, ...]
    charted: str = ""
    waits: bool = False
    left_open: bool = False
    others_tell: str = ""
    maybe_gone: str = ""
    phase: Phase = Phase.OVER


@dataclass(frozen=True, slots=True)
class ClosedPrompt:
    """Says goodbye, and whether something was left unsaved."""

    unsaved: bool
    choices: tuple[Choice, ...] = ()
    phase: Phase = Phase.CLOSED


Prompt = ReportPrompt | NoticePrompt | StepPrompt | ListPrompt | ConflictPrompt | EndPrompt | ClosedPrompt
