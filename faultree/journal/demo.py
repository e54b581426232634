"""A fictional fleet's year for demonstration: invented cases, the same for the same seed, marked as invented.

Hidden faults are drawn from P(F / report), and the fleet has weak spots of its own: for each report one cause
comes more often than its author thought, so that history has something to teach. Checks answer as the aircraft
with those faults would, with the errors that the tree gives them, and are chosen as the walk's advice has it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from random import Random
from typing import NamedTuple

from faultree.base.errors import Contradiction, JournalError
from faultree.belief.evidence import Repair, Reply, Step
from faultree.journal import book
from faultree.journal.records import Flight
from faultree.journal.store import Store
from faultree.journal.terms import INVENTED
from faultree.library.model import Library
from faultree.practice.draw import Faults, draw_of
from faultree.practice.scenario import Scenario
from faultree.practice.world import World
from faultree.strategy.case import Case
from faultree.walk import judge, saved, steps
from faultree.walk.changes import step_data
from faultree.walk.state import RepairStep, Walk
from faultree.walk.today import ANY

ORIGIN = INVENTED

AIRLINE, AIRCRAFT_TYPE = "Harrowmere Air", "Velloran V70"
"""The fictional airline and aircraft; no such airline or aircraft exists."""

TAILS = tuple(f"HM-VL{letter}" for letter in "ABCDEFGH")
PHASES: tuple[tuple[str, str], ...] = (
    ("landing", "landing"), ("rejected", "take-off"), ("cruise", "cruise"), ("approach", "approach"),
    ("taxi", "taxi"), ("descent", "descent"), ("parked", "parked"),
)  # fmt: skip
START, DAYS = date(2031, 1, 1), 365
INITIALS = ("KL", "MB", "TS", "AR", "JD")

REPORTS = 8
"""So many different reports come up in the year."""

STEPS = 25
"""A case that takes more steps is handed over."""

WEAK = 0.35
"""In so many cases the fleet's weak spot is behind a report."""

UNKNOWN, UNTOLD, SPURIOUS, RETURNS, LATER = 0.03, 0.08, 0.10, 0.15, 0.06
"""Shares: words that no symptom fits, checks nobody could answer, units in which the shop finds no fault, defects that
come back within two weeks, and defects that are deferred. They are invented; common practice, no source."""

STRANGE = ("toilet flush weak", "coffee maker smells burnt", "seat 12C does not recline", "reading light flickers")


class Made(NamedTuple):
    """How many cases were made, and how many of them are repeats of an earlier one."""

    cases: int
    repeats: int


class _Plan(NamedTuple):
    """One squawk to come: when, on which aircraft, which report and what is behind it."""

    day: date
    tail: str
    symptom: str
    hidden: Faults
    again: bool


@dataclass
class _Fleet:
    """The year: what the cases share, and the next steps that were worked out for the same findings before."""

    library: Library
    random: Random
    weak: Mapping[str, Faults] = field(default_factory=dict)
    advised: dict[Case, Step | None] = field(default_factory=dict)
    packed: dict[Case, Mapping[str, object]] = field(default_factory=dict)
    known: dict[tuple[str, tuple[Step, ...]], Case] = field(default_factory=dict)


def fill(store: Store, library: Library, seed: int = 1, cases: int = 200) -> Made:
    """Add the cases of an invented year to a journal; the same seed and library give the same cases. JournalError."""
    if not library.symptoms:
        raise JournalError("these tree files hold no symptom, so there is nothing to invent cases of")
    fleet = _Fleet(library, Random(f"demonstration {seed}"))
    plans = list(_plans(fleet, cases))
    for plan in plans:
        at = datetime(plan.day.year, plan.day.month, plan.day.day, 6 + fleet.random.randrange(16), tzinfo=UTC)
        _write(replace(store, clock=lambda at=at: at), fleet, plan)  # type: ignore[misc]
    return Made(len(plans), sum(one.again for one in plans))


# --- what happens ------------------------------------------------------------------------------


def _plans(fleet: _Fleet, cases: int) -> Iterator[_Plan]:
    """The squawks of the year in the order of their days."""
    random, library = fleet.random, fleet.library
    reports = random.sample(sorted(library.symptoms), min(REPORTS, len(library.symptoms)))
    fleet.weak = {name: draw_of(library, name).of_size(1, random) for name in reports if _single(library, name)}
    found: list[_Plan] = []
    while len(found) < cases:
        symptom = random.choices(reports, [len(reports) - place for place in range(len(reports))])[0]
        weak = symptom in fleet.weak and random.random() < WEAK
        hidden = fleet.weak[symptom] if weak else draw_of(library, symptom).any(random)
        plan = _Plan(START + timedelta(random.randrange(DAYS)), random.choice(TAILS), symptom, hidden, again=False)
        found.append(plan)
        while random.random() < RETURNS and len(found) < cases:
            plan = plan._replace(day=plan.day + timedelta(1 + random.randrange(6)), again=True)
            if plan.day >= START + timedelta(DAYS):
                break
            found.append(plan)
    yield from sorted(found, key=lambda one: (one.day, one.tail, one.symptom))


def _single(library: Library, symptom: str) -> bool:
    return bool(draw_of(library, symptom).sized(1)[0])


def _write(store: Store, fleet: _Fleet, plan: _Plan) -> None:
    """One case from its words to its end."""
    random, library = fleet.random, fleet.library
    flight = Flight(plan.tail, f"HM {100 + random.randrange(800)}", plan.day.isoformat(), _phase(library, plan.symptom))
    if random.random() < UNKNOWN:
        case = book.open_case(store, flight, [random.choice(STRANGE)], library.digest, origin=ORIGIN)
        book.match(store, case, 1, None)
        return
    who = random.choice(INITIALS)
    symptom = library.symptoms[plan.symptom]
    words = random.choice((symptom.title, *symptom.words))
    case = book.open_case(store, flight, [words], library.digest, origin=ORIGIN, who=who)
    book.match(store, case, 1, plan.symptom, who=who)
    if random.random() < LATER:
        due = (plan.day + timedelta(10)).isoformat()
        data = {"category": "C", "days": 10, "found": plan.day.isoformat()}
        book.end(store, case, "deferred", due=due, data=data, who=who)
        return
    world = World(library, Scenario(plan.symptom, 2, random.randrange(10_000), words, plan.hidden))
    _end(store, fleet, case, world, _search(store, fleet, case, world, who), who)


def _phase(library: Library, symptom: str) -> str:
    title = library.symptoms[symptom].title
    return next((phase for word, phase in PHASES if word in title), "")


def _search(store: Store, fleet: _Fleet, case: int, world: World, who: str) -> Case:
    """Check and repair as advised, each step an entry; the case as it stands then."""
    now = _once(fleet, Case.open(fleet.library, [world.scenario.symptom]))
    while len(now.steps) < STEPS and not _restored(now):
        advised = _advised(fleet, now)
        if advised is None:
            break
        try:
            now = _made(fleet, now, world, advised)
        except Contradiction:  # a check erred, so that nothing explains all; nobody trusts the last one
            if isinstance(advised, Repair):
                break
            now = _once(fleet, now.cannot_tell(advised.check))
        if now not in fleet.packed:
            fleet.packed[now] = saved.pack(Walk(fleet.library, case=now))
        book.add(store, case, "event", {**step_data(fleet.library, now.steps[-1]), "walk": fleet.packed[now]}, who=who)
    return now


def _once(fleet: _Fleet, case: Case) -> Case:
    """The same case as a value that was met before, with all that was worked out for it."""
    return fleet.known.setdefault((case.symptoms[0], case.steps), case)


def _restored(case: Case) -> bool:
    return bool(case.steps) and isinstance(case.steps[-1], Repair) and case.steps[-1].gone is True


def _advised(fleet: _Fleet, case: Case) -> Step | None:
    """The next step for these findings, without its outcome; None where there is none."""
    if case not in fleet.advised:
        best = next(judge.sensible(case, ANY, quick=True), None)
        pending = judge.step_of(best) if best else None
        if isinstance(pending, RepairStep):
            fleet.advised[case] = Repair(pending.unit, None)
        else:
            fleet.advised[case] = Reply(pending.check, None) if pending else None
    return fleet.advised[case]


def _made(fleet: _Fleet, case: Case, world: World, advised: Step) -> Case:
    """The case after a step; now and then nobody could tell what a check showed."""
    repaired = [one.unit for one in case.steps if isinstance(one, Repair)]
    made: Step
    if isinstance(advised, Repair):
        made = Repair(advised.unit, not world.shows([*repaired, advised.unit]))
    else:
        untold = fleet.random.random() < UNTOLD
        made = Reply(advised.check, None if untold else world.answer(advised.check, repaired))
    before = fleet.known.get((case.symptoms[0], (*case.steps, made)))
    return before or _once(fleet, steps.add(case, made))


def _end(store: Store, fleet: _Fleet, case: int, world: World, now: Case, who: str) -> None:
    """Findings and the state: what was put right in vain is examined in the shop, mostly with no fault found."""
    random = fleet.random
    for step in now.steps:
        if not isinstance(step, Repair):
            continue
        if step.gone:
            _restoring(store, fleet, case, world, step.unit, who)
        elif not world.at_fault(step.unit):
            book.find(
                store, case, step.unit, "not found", how="examined in the shop, invented", who=random.choice(INITIALS)
            )
    if _restored(now):
        last = now.steps[-1]
        assert isinstance(last, Repair)  # the case is restored
        book.end(store, case, "confirmed", data={"how": "operational check, invented"}, who=who)
    else:
        book.end(store, case, "handed over" if random.random() < 0.5 else "no fault found", data={}, who=who)


def _restoring(store: Store, fleet: _Fleet, case: int, world: World, unit: str, who: str) -> None:
    """The repair that helped: confirmed with its cause, confirmed as a unit, or only put right."""
    library, random = fleet.library, fleet.random
    causes = sorted(name for name in world.scenario.hidden if (library.causes[name].item or name) == unit)
    chance = random.random()
    if not causes or chance < SPURIOUS:
        book.find(store, case, unit, "replaced", how="operational check, invented", who=who)
        return
    cause = causes[0] if chance < 0.8 else None
    book.find(store, case, unit, "confirmed", cause=cause, how="shop report, invented", who=who)
