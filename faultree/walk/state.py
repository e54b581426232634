"""The state of a walk as one frozen value, and the remarks that a step can make in passing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from faultree.base.errors import CaseError
from faultree.belief.evidence import Repair, Reply
from faultree.library.model import Library
from faultree.strategy.case import Case
from faultree.strategy.chart.value import Chart
from faultree.walk.table import Phase
from faultree.walk.today import Lack, Today


class Reason(StrEnum):
    """Why a search is over."""

    STANDS_OUT = "stands out"  # one item is likely enough to act on
    NOTHING_LEFT = "nothing left"  # no check can tell more apart
    WISHED = "wished"  # the person ended it
    RESTORED = "restored"  # the symptom is gone after a replacement
    CHART_ENDS = "chart ends"  # the chart that was followed ends here
    UNEXPLAINED = "unexplained"  # the answers contradict each other and were left so


@dataclass(frozen=True, slots=True)
class CheckStep:
    """A check that is on view or waits for its cautions."""

    check: str


@dataclass(frozen=True, slots=True)
class RepairStep:
    """A replacement that is on view or waits for its cautions."""

    unit: str


Pending = CheckStep | RepairStep


@dataclass(frozen=True, slots=True)
class Conflict:
    """Steps that cannot all be true, the likeliest wrong one first; `newest` is not part of the case."""

    newest: Reply | Repair
    steps: tuple[Reply | Repair, ...]


@dataclass(frozen=True, slots=True)
class Remark:
    """A note kept with the case, and how many steps the case had when it was written."""

    after: int
    text: str


@dataclass(frozen=True, slots=True)
class Sighting:
    """Whether the symptom could be seen again, and how many steps the case had by then."""

    after: int
    seen: bool


@dataclass(frozen=True, slots=True)
class Undone:
    """An access closed again, or what a caution asked for taken out, and how many steps the case had by then."""

    after: int
    kind: str
    name: str


@dataclass(frozen=True, slots=True)
class Added:
    """A report (full id) that came in after the case had begun, and how many steps the case had by then."""

    after: int
    symptom: str


@dataclass(frozen=True, slots=True)
class Unfit:
    """A part of a saved case that the tree has no place for any more: kept as it was, counting for nothing.

    `after` is the number of fitting steps before it, `because` why it does not fit, `part` which part of the file it
    belongs to (symptoms, steps, withdrawn, ...), and `data` what the file holds.
    """

    after: int
    because: str
    part: str
    data: Mapping[str, object]


class Fingerprint(NamedTuple):
    """What a saved file would keep of a walk, in a form that two moments can be compared by; empty before a case."""

    symptoms: tuple[str, ...] = ()
    steps: tuple[Reply | Repair, ...] = ()
    unexplained: Reply | Repair | None = None
    remarks: tuple[Remark, ...] = ()
    withdrawn: tuple[Reply | Repair, ...] = ()
    lacks: tuple[Lack, ...] = ()
    sightings: tuple[Sighting, ...] = ()
    undone: tuple[Undone, ...] = ()
    locks: frozenset[str] = frozenset()
    added: tuple[Added, ...] = ()
    by: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True)
class Walk:
    """Where a walk stands; every step gives a new one.

    `read` holds the cautions acknowledged, `withdrawn` the steps that were looked at again after a
    contradiction, `declined` the units that stood out when the person chose to go on checking,
    `saved` the fingerprint of what was last saved, `by` who can work on the aircraft (None:
    anyone), `chart` the compiled chart that is followed as long as the case keeps to it, `lacks` what
    is not available today, `sightings` when the symptom could not be seen again, `undone` what was
    closed or taken out again, `opened` the access (full ids) of steps that were taken back, and `added` the
    reports that came in after the case had begun. Of a case
    taken up, `fitted` holds the cautions acknowledged before whose locks, pins or tags may be in, `changes`
    says what changed in the tree since it was saved, and `unfit` holds what no longer fits.
    """

    library: Library
    phase: Phase = Phase.REPORT
    case: Case | None = None
    pending: Pending | None = None
    conflict: Conflict | None = None
    reason: Reason | None = None
    read: frozenset[str] = frozenset()
    remarks: tuple[Remark, ...] = ()
    withdrawn: tuple[Reply | Repair, ...] = ()
    declined: tuple[str, ...] = ()
    saved: Fingerprint = Fingerprint()
    by: tuple[str, ...] | None = None
    chart: Chart | None = None
    lacks: tuple[Lack, ...] = ()
    sightings: tuple[Sighting, ...] = ()
    undone: tuple[Undone, ...] = ()
    opened: frozenset[str] = frozenset()
    added: tuple[Added, ...] = ()
    fitted: frozenset[str] = frozenset()
    changes: tuple[str, ...] = ()
    unfit: tuple[Unfit, ...] = ()

    @property
    def today(self) -> Today:
        """Who and what is there today."""
        return Today(self.by, self.lacks)

    @property
    def locks(self) -> frozenset[str]:
        """The cautions acknowledged, now or before the case was taken up, whose locks, pins or tags may be in."""
        return frozenset(name for name in self.read | self.fitted if self.library.cautions[name].afterwards)

    @property
    def unseen(self) -> bool:
        """True where the symptom could not be seen again and has not shown itself since."""
        return bool(self.sightings) and not self.sightings[-1].seen

    @property
    def open_case(self) -> Case:
        """The case; CaseError before one is open."""
        if self.case is None:
            raise CaseError("no case is open yet; say first what was reported")
        return self.case

    @property
    def fingerprint(self) -> Fingerprint:
        """What a saved file would keep of the walk as it stands."""
        if self.case is None:
            return Fingerprint()
        return Fingerprint(
            self.case.symptoms,
            self.case.steps,
            self.conflict.newest if self.conflict else None,
            self.remarks,
            self.withdrawn,
            self.lacks,
            self.sightings,
            self.undone,
            self.locks,
            self.added,
            self.by,
        )

    @property
    def unsaved(self) -> bool:
        """True where leaving now would lose an answer, a note, a lock that may be in, or another record."""
        if self.case is None or self.fingerprint == self.saved:
            return False
        return any(self.fingerprint[1:-1])  # who is at the aircraft is no loss by itself


@dataclass(frozen=True, slots=True)
class Refused:
    """An event that is not possible here, and what is."""

    text: str


@dataclass(frozen=True, slots=True)
class Explained:
    """The answer to "why": a title and plain sentences."""

    title: str
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """A plain remark: a note kept, an answer taken back."""

    text: str


Said = Refused | Explained | Told


@dataclass(frozen=True, slots=True)
class Turn:
    """What one event led to: the new state, and what is said in passing."""

    walk: Walk
    said: tuple[Said, ...] = ()
