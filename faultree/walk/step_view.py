"""The next step as it is put to a person: a check or a replacement, its cautions, and the choices there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from faultree.base.words import capital, listing
from faultree.library.model import Check
from faultree.strategy.case import Case, Outlook
from faultree.walk import cautions, effort, figures, judge, titles, today
from faultree.walk import events as ev
from faultree.walk.prompt import AccessLine, CautionLine, CheckView, Choice, Leaves, RepairView
from faultree.walk.state import CheckStep, Pending, RepairStep, Walk
from faultree.walk.suspects import FAINT, GONE, line
from faultree.walk.table import Phase

PLACES = 3
"""So many items are named as the ones that a check looks at."""

SEPARATED = 0.01
"""A check looks at a suspect where its answers would leave probabilities further apart than this."""

GROUPS = 3
"""So many groups of suspects are named that a check tells from each other."""

NAMED = 2
"""So many suspects of a group are named; the rest are counted."""


def check_view(walk: Walk, name: str) -> CheckView:
    """A check with everything a person needs before and while doing it."""
    case, library = walk.open_case, walk.library
    check = library.checks[name]
    worth = next((one for one in figures.checks(case) if one.check == name), None)
    return CheckView(
        check=name,
        title=check.title,
        ask=check.ask,
        situation=library.situations[check.situation].title if check.situation else "",
        effort=effort.of_check(library, name, case.opened),
        access=access_lines(case, check.access),
        by=check.by,
        manual=check.manual,
        tools=check.tools,
        note=check.note,
        places=_places(case, figures.outlook(case, name)),
        why=_separates(case, figures.outlook(case, name)),
        bits=worth.bits if worth else 0.0,
        expected_minutes=_expected(walk, CheckStep(name)),
        cautions=caution_lines(walk, CheckStep(name)),
        missing=_missing(walk, name),
    )


def repair_view(walk: Walk, unit: str) -> RepairView:
    """A replacement with everything a person needs before doing it, and the checks that follow it."""
    case, library = walk.open_case, walk.library
    item = library.items.get(unit)
    suspects = [one for one in case.ranking() if unit in (one.item, one.cause) and one.implicated]
    found = [library.symptoms[name] for name in case.symptoms]
    return RepairView(
        unit=unit,
        title=titles.unit_title(library, unit),
        place=item.place if item else "",
        effort=effort.of_repair(library, unit, case.symptoms, case.opened),
        access=access_lines(case, item.access if item else ()),
        manual=item.manual if item else library.causes[unit].manual,
        probability=next((one.probability for one in case.units() if one.unit == unit), 0.0),
        causes=tuple(line(case, one) for one in suspects if one.probability > GONE),
        retests=tuple((one.title, one.retest) for one in found),
        expected_minutes=_expected(walk, RepairStep(unit)),
        cautions=caution_lines(walk, RepairStep(unit)),
        missing=_missing(walk, unit),
        unseen=walk.unseen,
        away=_away(case),
    )


def _away(case: Case) -> tuple[str, ...]:
    """The situations of the reports in which only the crew can look: none that is set up on the aircraft."""
    library = case.library
    set_up = {check.situation for check in library.checks.values() if check.by != "crew"}
    seen_in = dict.fromkeys(library.symptoms[name].situation for name in case.symptoms)
    return tuple(library.situations[one].title for one in seen_in if one is not None and one not in set_up)


def _missing(walk: Walk, step: str) -> tuple[str, ...]:
    """What a step needs that is not there today, in words."""
    return tuple(today.words(walk.library, one) for one in today.needs(walk.library, step) if one in walk.lacks)


def caution_lines(walk: Walk, step: Pending) -> tuple[CautionLine, ...]:
    """The cautions before a step, with those marked that have been acknowledged."""
    found = cautions.before(walk.open_case, step)
    return tuple(CautionLine(one.id, one.level, one.text, one.id in walk.read) for one in found)


def access_lines(case: Case, access: Iterable[str]) -> tuple[AccessLine, ...]:
    """The access that a step needs, with what has been opened marked."""
    table = case.library.access
    return tuple(AccessLine(table[name].title, table[name].minutes, name in case.opened) for name in access)


def _expected(walk: Walk, step: Pending) -> float | None:
    """Expected minutes to restoration when this is done next, where the advice covers it."""
    advice = figures.advice(walk.open_case, walk.today)
    return next((one.expected_minutes for one in advice if judge.step_of(one) == step), None)


def _places(case: Case, outlook: Mapping[str, Outlook]) -> tuple[tuple[str, str], ...]:
    """The items (title, place) that the answers tell most apart; last, without a place, how many more there are."""
    spread: dict[str, float] = {}
    possible = (leaf for leaf in outlook.values() if leaf.probability > 0)
    columns = [{one.cause: one.probability for one in leaf.ranking} for leaf in possible]
    for suspect in case.ranking():
        if suspect.implicated and suspect.item:
            values = [column.get(suspect.cause, 0.0) for column in columns]
            apart = max(values, default=0.0) - min(values, default=0.0)
            spread[suspect.item] = max(apart, spread.get(suspect.item, 0.0))
    order = sorted((name for name in spread if spread[name] > SEPARATED), key=lambda name: -spread[name])
    items = case.library.items
    shown = order if len(order) == PLACES + 1 else order[:PLACES]  # one more is named as shortly as counted
    more = [(f"and {len(order) - len(shown)} more", "")] if len(order) > len(shown) else []
    return (*((items[name].title, items[name].place) for name in shown), *more)


def _separates(case: Case, outlook: Mapping[str, Outlook]) -> str:
    """What a check tells from what, in a sentence: each suspect counts for the answer that it makes likeliest.

    Faint suspects are left out: a check is not proposed for their sake.
    P(answer / suspect) is P(suspect / answer) P(answer) / P(suspect), all of which the outlook holds.
    """
    now = {one.cause: one.probability for one in case.ranking() if one.implicated and one.probability >= FAINT}
    given: dict[str, dict[str, float]] = {cause: {} for cause in now}
    for answer, leaf in outlook.items():
        for one in leaf.ranking:
            if one.cause in now:
                given[one.cause][answer] = one.probability * leaf.probability / now[one.cause]
    groups: dict[str, list[str]] = {}
    for cause, chances in given.items():
        if any(abs(chance - outlook[answer].probability) > SEPARATED for answer, chance in chances.items()):
            groups.setdefault(max(chances, key=lambda answer: chances[answer]), []).append(cause)
    order = sorted(groups.values(), key=lambda causes: -sum(now[cause] for cause in causes))
    if len(order) < 2:
        return "It tells nothing about the suspects." if not order else f"It speaks about {_group(case, order[0])}."
    *first, last = (_group(case, causes) for causes in order[:GROUPS])
    if len(first) == 1 and max(map(len, order[:GROUPS])) == 1:
        return f"It tells {first[0]} from {last}."
    # Semicolons part the groups, as within a group there are commas already.
    return f"It tells apart: {'; '.join(first)}; and {last}."


def _group(case: Case, causes: list[str]) -> str:
    titles_of = [case.library.causes[cause].title for cause in causes]
    more = len(causes) - NAMED
    return f"{', '.join(titles_of[:NAMED])} and {more} more" if more > 0 else listing(titles_of)


def question(walk: Walk, pending: Pending) -> Iterator[Choice]:
    """The choices that belong to the step on view itself: to acknowledge, or to answer."""
    if walk.phase is Phase.CAUTIONS:
        yield Choice("acknowledge", ev.Acknowledge(), "I have read these cautions and will follow them")
    elif isinstance(pending, CheckStep):
        yield from _answers(walk.open_case, walk.library.checks[pending.check])
    else:
        for gone in (True, False):
            yield Choice("retest", ev.Retest(gone), capital(titles.OUTCOMES[gone]))
        yield Choice("cannot tell", ev.CannotTell(), "I cannot tell")


def _answers(case: Case, check: Check) -> Iterator[Choice]:
    outlook = figures.outlook(case, check.id)
    possible = sum(one.implicated and one.probability > GONE for one in case.ranking())
    for answer in check.answers:
        leaves = _leaves(case, outlook[answer.id], possible) if answer.id in outlook else None
        yield Choice("answer", ev.AnswerCheck(answer.id), answer.text, detail=answer.id, leaves=leaves)
    yield Choice("cannot tell", ev.CannotTell(), "I cannot tell")


def _leaves(case: Case, outlook: Outlook, possible: int) -> Leaves:
    now = {one.cause: one.probability for one in case.ranking()}
    causes = case.library.causes
    alive = [one for one in outlook.ranking if one.implicated and one.probability > GONE]
    return Leaves(
        probability=outlook.probability,
        first=tuple((causes[one.cause].title, one.probability) for one in alive[:2]),
        excluded=max(possible - len(alive), 0),
        kept=len(alive),
        moved=max((abs(one.probability - now[one.cause]) for one in outlook.ranking), default=0.0),
    )


def advised(walk: Walk, count: int) -> Iterator[Choice]:
    """The best other steps, best first."""
    case = walk.open_case
    units = {one.unit: one.probability for one in case.units()}
    for one in judge.alternatives(case, walk.today, walk.pending, count):
        if one.check is not None:
            yield check_choice(case, one.check, one.bits, one.minutes, one.expected_minutes)
        elif one.item is not None:
            yield replace_choice(case, one.item, units.get(one.item, 0.0), one.expected_minutes)


def check_choice(case: Case, name: str, bits: float, minutes: float, expected: float | None = None) -> Choice:
    """A check as a numbered choice."""
    return Choice(
        "check",
        ev.TakeUp(name),
        case.library.checks[name].title,
        detail=name,
        minutes=minutes,
        bits=bits,
        expected_minutes=expected,
        by=case.library.checks[name].by,
        cautions=bool(cautions.before(case, CheckStep(name))),
    )


def replace_choice(
    case: Case, unit: str, probability: float, expected: float | None = None, lacks: tuple[today.Lack, ...] = ()
) -> Choice:
    """A replacement as a numbered choice; `lacks` is what is not available today."""
    library = case.library
    return Choice(
        "replace",
        ev.Replace(unit),
        titles.unit_title(library, unit),
        detail=unit,
        minutes=effort.of_repair(library, unit, case.symptoms, case.opened).total,
        expected_minutes=expected,
        probability=probability,
        cautions=bool(cautions.before(case, RepairStep(unit))),
        waits=unit in today.waiting(library, lacks),
    )
