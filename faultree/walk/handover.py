"""The end of a walk: what is likely, what is not excluded, and the text to hand over to whoever goes on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from faultree.base.words import capital, listing, minutes, percent, sentence
from faultree.belief.evidence import Repair, Reply
from faultree.strategy.case import Case, Unit
from faultree.walk import doubt, effort, follow, history, titles, today, undoing, untold
from faultree.walk import events as ev
from faultree.walk.cautions import LEVELS
from faultree.walk.judge import SURE, next_check, standing_out
from faultree.walk.prompt import NOTICE, CautionLine, Choice, EndPrompt, UnitLine
from faultree.walk.records import waiting_titles
from faultree.walk.scale import scale
from faultree.walk.state import Conflict, Reason, RepairStep, Sighting, Walk
from faultree.walk.step_view import caution_lines, replace_choice
from faultree.walk.suspects import FAINT, NOTABLE, ever_pointed_to, together
from faultree.walk.today import Today
from faultree.walk.unfit import unfit_words

LIKELY = 4
"""At most so many units are called likely."""

UNLIKELY = 0.05
"""A unit less likely than this is called likely by nobody, even where none is likelier."""

OTHERS = 8
"""At most so many further units are named as not excluded."""

REPLACEMENTS = 3
"""So many replacements are offered at the end."""

MOVED = 5
"""The courses of so many suspects are handed over; `history` in the walk tells more."""

WAITING = 4
"""So many steps are named that wait for something which is not available."""

OPENED = "Access left open, to be closed again and recorded:"
FITTED = "Locks, pins and tags, if they were fitted or set, and what else a caution asks for:"
"""What stands above the things left open."""


def end_prompt(walk: Walk) -> EndPrompt:
    """The sum of a case."""
    case = walk.open_case
    reason = walk.reason or Reason.WISHED
    # Contradicting answers are never answered with a ranking, and after a repair that helped there is none.
    silent = reason in (Reason.RESTORED, Reason.UNEXPLAINED)
    likely, rest = split(() if silent else case.units())
    others = worth_naming(case, rest)
    return EndPrompt(
        reason=reason,
        minutes=effort.spent(case, walk.conflict.newest if walk.conflict else None),
        likely=tuple(unit_line(case, unit) for unit in likely),
        others=tuple(unit_line(case, unit) for unit in others),
        more=len(rest) - len(others),
        together=() if silent else together(case),
        handover=tuple(text(walk)),
        cautions=_cautions(walk, likely),
        choices=tuple(_choices(walk, likely)),
        charted=follow.words(walk),
        waits=reason is Reason.NOTHING_LEFT and any(waiting_titles(walk, one) for one in walk.lacks),
        left_open=any(not one.closed for one in undoing.left(walk)),
        others_tell=_others_tell(walk),
        maybe_gone="" if silent else untold.maybe_gone(case),
    )


def _others_tell(walk: Walk) -> str:
    """Whose checks are at their end, where those of others would tell more; else empty."""
    case, everyone = walk.open_case, Today(None, walk.lacks)
    if walk.by is None or walk.reason not in (Reason.NOTHING_LEFT, Reason.STANDS_OUT):
        return ""
    if walk.reason is Reason.STANDS_OUT and standing_out(case, everyone):
        return ""
    return today.people(walk.by) if next_check(case, everyone) else ""


def split(units: tuple[Unit, ...]) -> tuple[tuple[Unit, ...], tuple[Unit, ...]]:
    """The likely units (at least half as likely as the first, and not unlikely in themselves) and all the others."""
    least = max(units[0].probability / 2, UNLIKELY) if units else 0.0
    likely = tuple(unit for unit in units[:LIKELY] if unit.probability >= least)
    return likely, units[len(likely) :]


def worth_naming(case: Case, rest: tuple[Unit, ...]) -> tuple[Unit, ...]:
    """Of the units that are not excluded, those to name: not faint, and pointed to by the report or the evidence."""
    pointed = ever_pointed_to(case)
    named = (unit for unit in rest if unit.probability >= FAINT and any(one.cause in pointed for one in unit.causes))
    return tuple(named)[:OTHERS]


def still_suspected(case: Case) -> tuple[Unit, ...]:
    """The units that the evidence still points to after the symptom is gone: a fault may be left without a sign."""
    return tuple(unit for unit in case.units() if unit.probability - sum(one.prior for one in unit.causes) >= NOTABLE)[
        :OTHERS
    ]


def unit_line(case: Case, unit: Unit) -> UnitLine:
    """A unit with its place and manual reference."""
    library = case.library
    item = library.items.get(unit.unit)
    manual = item.manual if item else library.causes[unit.unit].manual
    return UnitLine(
        unit.unit, titles.unit_title(library, unit.unit), item.place if item else "", manual, unit.probability
    )


def _cautions(walk: Walk, likely: tuple[Unit, ...]) -> tuple[CautionLine, ...]:
    """The cautions of every replacement that the ending proposes, each once."""
    lines = {one.id: one for unit in likely for one in caution_lines(walk, RepairStep(unit.unit))}
    return tuple(sorted(lines.values(), key=lambda one: LEVELS[one.level]))


def _choices(walk: Walk, likely: tuple[Unit, ...]) -> Iterator[Choice]:
    case = walk.open_case
    if walk.reason is Reason.RESTORED:
        return
    if walk.reason is Reason.UNEXPLAINED:
        yield Choice("carry on", ev.CarryOn(), "Look at the contradicting answers again")
        return
    for unit in likely[:REPLACEMENTS] if walk.today.repairs else ():
        yield replace_choice(case, unit.unit, unit.probability, lacks=walk.lacks)
    if next_check(case, walk.today):
        open_pair = walk.reason is Reason.STANDS_OUT and any(one.probability < SURE for one in together(case)[:1])
        words = "Carry on checking, to settle which faults act together" if open_pair else "Carry on checking"
        yield Choice("carry on", ev.CarryOn(), words)


# --- the text to hand over ---------------------------------------------------------------------


def text(walk: Walk) -> Iterator[str]:
    """The hand-over, line by line; every heading ends with a colon and its entries begin with "- "."""
    case, library = walk.open_case, walk.library
    yield "Reported:"
    later = {one.symptom: one.after for one in walk.added}
    yield from (f"- {library.symptoms[name].title}{_when(later.get(name))}" for name in case.symptoms)
    yield from _done(walk)
    yield from _withdrawn(walk)
    yield from _sightings(walk)
    yield from _findings(walk)
    yield from filter(None, (follow.says(walk),))
    yield from _history(walk)
    yield from _left_out(walk)
    yield from _closing(walk)
    yield from _outdated(walk)
    if walk.remarks:
        yield "Notes:"
        yield from (f"- {remark.text}" for remark in walk.remarks)
    yield f"Time spent: {minutes(effort.spent(case, walk.conflict.newest if walk.conflict else None))}"
    yield from filter(None, (scale(case),))
    yield from _authority(case)
    yield NOTICE


def _when(after: int | None) -> str:
    """When a report came in, where that was not at the beginning."""
    return f" (reported after step {after})" if after else ""


def _done(walk: Walk) -> Iterator[str]:
    steps = history.numbered(walk.open_case)
    waiting = walk.conflict.newest if walk.conflict else None
    yield "Done:" if steps or waiting else "Done: no check yet"
    yield from (f"- {step}" for step in steps)
    if waiting:
        yield f"- Step {len(steps) + 1}: {titles.sentence(walk.library, waiting)} (contradicts: see below)"


def _withdrawn(walk: Walk) -> Iterator[str]:
    if walk.withdrawn:
        yield "Answered, then looked at again because it contradicted other answers:"
        yield from (f"- {titles.sentence(walk.library, step)}" for step in walk.withdrawn)


def _findings(walk: Walk) -> Iterator[str]:
    case = walk.open_case
    if walk.reason is Reason.RESTORED:
        last = case.steps[-1]
        assert isinstance(last, Repair)  # only a replacement restores
        yield f"Restored by putting right: {titles.unit_title(walk.library, last.unit)}"
        yield from untold.next_to(case, last)
        if walk.unseen:
            yield "The symptom could not be seen before that either, so its being gone proves little."
        latent = still_suspected(case)
        if latent:
            yield "Still suspected although the symptom is gone; it may have taken more than one fault:"
            yield from (f"- {_unit(unit_line(case, unit))}" for unit in latent)
        return
    if walk.conflict:
        yield "These answers cannot all be true, and that is not settled:"
        yield from (f"- {_doubtful(case, walk.conflict, step)}" for step in doubt.doubted(walk.conflict))
        return
    yield from filter(None, (untold.maybe_gone(case),))
    likely, rest = split(case.units())
    yield "Likely:" if likely else f"Likely: {_none(rest)}"
    yield from (f"- {_unit(unit_line(case, unit))}" for unit in likely)
    yield from _listed(
        "Faults that explain what was found only together:",
        (f"{' with '.join(one.titles)}, {percent(one.probability)}" for one in together(case)),
    )
    named = worth_naming(case, rest)
    if named:
        yield "Not excluded:"
        yield from (f"- {titles.unit_title(walk.library, unit.unit)}, {percent(unit.probability)}" for unit in named)
    faint = len(rest) - len(named)
    if faint:
        yield f"Not excluded but unlikely: {faint} more"


def _none(rest: tuple[Unit, ...]) -> str:
    if not rest:
        return "nothing in the tree explains what is left"
    return f"no suspect is; none is above {percent(rest[0].probability)}"


def _doubtful(case: Case, conflict: Conflict, step: Reply | Repair) -> str:
    lead = doubt.if_wrong(case, conflict, step)
    follows = f"; if this one is wrong, {lead[0]} is likeliest ({percent(lead[1])})" if lead else ""
    return titles.sentence(case.library, step) + follows


def _unit(one: UnitLine) -> str:
    parts = [one.title, percent(one.probability), one.place, one.manual]
    return ", ".join(part for part in parts if part)


def _sightings(walk: Walk) -> Iterator[str]:
    """When the symptom could not be seen again, and that this clears nothing."""
    if walk.sightings:
        yield "Looked for the symptom again:"
        yield from (f"- {_sighting(one)}" for one in walk.sightings)
        yield "The report stands; no figure rests on this. A fault that comes and goes is not excluded."


def _sighting(one: Sighting) -> str:
    when = f"after step {one.after}" if one.after else "before the first step"
    return f"{when} it {'was seen again' if one.seen else 'could not be seen again'}"


def _history(walk: Walk) -> Iterator[str]:
    """How the suspects moved; answers that contradict each other are not answered with figures."""
    case = walk.open_case
    if not walk.conflict and any(isinstance(one, Repair) or one.answer is not None for one in case.steps):
        yield "How the suspects moved:"
        yield from (f"- {line}" for line in history.told(case, MOVED))
        if any(not one.seen for one in walk.sightings):
            yield "Excluded is what was not there during that step; a fault that comes and goes may have been away."


def _left_out(walk: Walk) -> Iterator[str]:
    """Whose checks were proposed, what was not available, and what waits for it."""
    if walk.by is not None:
        yield capital(today.only(walk.by))
    if walk.lacks:
        yield "Not available, so left out:"
    for lack in walk.lacks:
        words = today.words(walk.library, lack)
        found = waiting_titles(walk, lack) if lack.kind in ("tool", "access") else ()
        more = f"; and {len(found) - WAITING} more" if len(found) > WAITING else ""
        yield f"- {words}" + (f"; waiting for it: {'; '.join(found[:WAITING])}{more}" if found else "")


def _closing(walk: Walk) -> Iterator[str]:
    """What was opened, fitted or tagged and is not undone yet, and what is."""
    found = undoing.left(walk)
    yield from _listed(OPENED, (one.words for one in found if one.kind == "access" and not one.closed))
    yield from _listed(FITTED, (one.words for one in found if one.kind == "caution" and not one.closed))
    yield from _listed("Closed or taken out again, as recorded:", (one.words for one in found if one.closed))


def _outdated(walk: Walk) -> Iterator[str]:
    """What the tree has no place for any more, and what changed in it."""
    yield from _listed("Kept, but it counts for nothing:", map(unfit_words, walk.unfit))
    yield from _listed("Changed since the case was saved:", walk.changes)


def _listed(heading: str, entries: Iterable[str]) -> Iterator[str]:
    for number, entry in enumerate(entries):
        if not number:
            yield heading
        yield f"- {entry}"


def records(walk: Walk) -> Iterator[str]:
    """What a saved case says beside its answers, as sentences for whoever takes it up."""
    if walk.by is not None:
        said = sentence(today.only(walk.by))
        yield f"{said} Type by and who is there (crew, line, shop or anyone) to change that."
    if walk.lacks:
        missing = listing(today.words(walk.library, one) for one in walk.lacks)
        yield f"Not available when it was saved: {missing}. Type available if it is there now."
    if walk.unseen:
        yield "The symptom could not be seen again when it was last looked for; the report stands."
    still = [one.words for one in undoing.left(walk) if not one.closed]
    if still:
        yield f"Left open: {'; '.join(still)}."
    if not walk.changes:  # they tell it already
        yield from (f"Kept, but it counts for nothing: {unfit_words(one)}." for one in walk.unfit)


def _authority(case: Case) -> Iterator[str]:
    systems = dict.fromkeys(case.library.symptoms[name].system for name in case.symptoms)
    named = [case.library.systems[name].authority for name in systems]
    if any(named):
        yield f"Approved data: {listing(dict.fromkeys(one for one in named if one))}"
