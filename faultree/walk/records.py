"""What is recorded beside the answers: what is not there today, what could not be seen again, what was closed."""

from __future__ import annotations

from dataclasses import replace
from typing import get_args

from faultree.base.errors import CaseError
from faultree.base.words import listing, percent, sentence
from faultree.library.model import Who
from faultree.walk import events as ev
from faultree.walk import figures, history, today, undoing
from faultree.walk.judge import concerns, proposal
from faultree.walk.onward import proceed
from faultree.walk.state import CheckStep, Explained, Pending, Reason, Sighting, Told, Turn, Undone, Walk
from faultree.walk.suspects import FAINT
from faultree.walk.table import Phase
from faultree.walk.today import Lack, Today

NAMED = 3
"""So many steps that have to wait are named; the rest are counted."""

REOPENED = (Reason.STANDS_OUT, Reason.NOTHING_LEFT, Reason.CHART_ENDS)
"""Endings that rest on what can be done today."""


CHANGES_NOTHING = (
    "It changes no figure and clears nothing. A fault may come and go with heat, cold, vibration, load or "
    "moisture; that it is away now is no evidence that nothing is wrong."
)
STANDS = "The report stands as it was made: it is evidence, and this does not take it back."
DOUBTED = (
    "The report stands. The tree allows for a mistaken one ({chance}); that was in the figures from the beginning, "
    "and this does not add to it."
)
WEAKENS = (
    "It does change how far a good reading can be trusted: a check that finds all well while the symptom is away may "
    "only show that the fault is away too. Where that could be so, type can't tell."
)
NEXT = (
    "Next: ask the crew when exactly it showed{again}. Choose checks that look at the parts themselves, for wear, "
    "dirt, play, leaks or a loose connection."
)
AFTER_REPAIR = (
    "When something is put right while the symptom is away, its being away afterwards proves nothing: type can't "
    "tell there."
)
LEAVE = (
    "If it does not come back, finish and hand over: it could not be seen again, which is not the same as no fault "
    "found. If it shows itself, type seen again."
)
"""What it means that a symptom cannot be seen again; common practice, no source."""


# --- not today ---------------------------------------------------------------------------------


def not_today(walk: Walk, event: ev.NotToday) -> Turn:
    """Leave out what needs something until it is there."""
    lack = today.lack_of(walk.library, event.what, event.name)
    words = today.words(walk.library, lack)
    if lack in walk.lacks:
        raise CaseError(f"{words} is left out already; 'available' takes that back")
    told = Told(f"Not today: {words}. {_waits(walk, lack)}")
    return Turn(_anew(walk, replace(walk, lacks=(*walk.lacks, lack))), (told,))


def available(walk: Walk, event: ev.Available) -> Turn:
    """Take back what was said not to be there."""
    if not walk.lacks:
        raise CaseError("nothing is left out today")
    meant = tuple(one for one in walk.lacks if not event.name or one == (event.what, event.name))
    if not meant:
        raise CaseError(f"'{event.name}' is not left out today")
    words = listing(today.words(walk.library, one) for one in meant)
    kept = tuple(one for one in walk.lacks if one not in meant)
    return Turn(_anew(walk, replace(walk, lacks=kept)), (Told(f"Available again: {words}."),))


def by(walk: Walk, event: ev.By) -> Turn:
    """Propose only checks of some people from now on, or of anyone."""
    unknown = [one for one in event.people if one not in get_args(Who)]
    if unknown:
        raise CaseError(f"'{unknown[0]}' is none of crew, line, shop and anyone")
    people = tuple(one for one in get_args(Who) if one in event.people)
    wanted = people if people and len(people) < len(get_args(Who)) else None
    if wanted == walk.by:
        raise CaseError(f"that is so already: {today.only(walk.by) or 'checks by anyone are proposed'}")
    told = Told(sentence(today.only(wanted)) if wanted else "Checks by anyone again.")
    return Turn(_anew(walk, replace(walk, by=wanted)), (told,))


def _anew(before: Walk, walk: Walk) -> Walk:
    """Find the next step anew with what is there now; a step that was taken up by choice stays as long as it can."""
    if walk.phase is Phase.OVER:
        return proceed(walk) if walk.reason in REOPENED else walk
    if walk.pending is None or walk.phase is Phase.NOTICE:
        return walk
    chosen = walk.pending != proposal(before)
    if chosen and (walk.phase is Phase.LIST or today.possible(walk.library, walk.today, _name(walk.pending))):
        return walk
    # The list stays on view; whoever goes back from it comes to the step that is best by then.
    return replace(walk, pending=None) if walk.phase is Phase.LIST else proceed(walk)


def _name(pending: Pending) -> str:
    return pending.check if isinstance(pending, CheckStep) else pending.unit


def _waits(walk: Walk, lack: Lack) -> str:
    if lack.kind in ("check", "unit"):
        return "It is left out until you type 'available'."
    found = waiting_titles(walk, lack)
    if not found:
        return "No step that concerns this case needs it."
    more = len(found) - NAMED
    named = f"{'; '.join(found[:NAMED])}; and {more} more" if more > 0 else "; ".join(found)
    return f"Left out until you type 'available': {named}."


def waiting_titles(walk: Walk, lack: Lack) -> tuple[str, ...]:
    """The steps that concern this case and have to wait for something, by title, those that tell most first."""
    case, names = walk.open_case, today.waiting(walk.library, (lack,))
    everything = figures.checks(case, Today(walk.by))
    checks = [one.check for one in everything if one.check in names and concerns(case, one)]
    units = [one.unit for one in case.units() if one.unit in names and one.probability >= FAINT]
    library = walk.library
    entries = {**library.causes, **library.items}
    return (*(library.checks[name].title for name in checks), *(f"put right: {entries[name].title}" for name in units))


# --- cannot duplicate --------------------------------------------------------------------------


def cannot_duplicate(walk: Walk, event: ev.CannotDuplicate) -> Turn:
    """Record that the symptom could not be seen again, and say what that means."""
    del event
    if walk.unseen:
        raise CaseError("that is recorded already; 'seen again' says that the symptom has shown itself since")
    after = replace(walk, sightings=(*walk.sightings, Sighting(len(walk.open_case.steps), seen=False)))
    return Turn(after, (Explained("Cannot duplicate: recorded", _meaning(after)),))


def _meaning(walk: Walk) -> tuple[str, ...]:
    """What it does and does not change that the symptom cannot be seen again, and what to do next."""
    case, library = walk.open_case, walk.library
    found = [library.symptoms[name] for name in case.symptoms]
    doubtful = [f"{percent(one.false_report)} for “{one.title}”" for one in found if one.false_report > 0]
    where = dict.fromkeys(library.situations[one.situation].title for one in found if one.situation)
    again = f" and set up the same again ({listing(where)})" if where else " and set up the same again"
    stands = DOUBTED.format(chance=listing(doubtful)) if doubtful else STANDS
    return (CHANGES_NOTHING, stands, WEAKENS, NEXT.format(again=again), AFTER_REPAIR, LEAVE)


def seen_again(walk: Walk, event: ev.SeenAgain) -> Turn:
    """Record that the symptom has shown itself after all."""
    del event
    if not walk.unseen:
        raise CaseError("nothing says that the symptom could not be seen; 'can't duplicate' would")
    sighting = Sighting(len(walk.open_case.steps), seen=True)
    told = Told("Seen again: recorded. The symptom comes and goes; a good reading counts while it shows.")
    return Turn(replace(walk, sightings=(*walk.sightings, sighting)), (told,))


# --- closed again, and the way here ------------------------------------------------------------


def closed(walk: Walk, event: ev.Closed) -> Turn:
    """Record that an access was closed again, or that locks, pins or tags were taken out."""
    found = undoing.still_open(walk, event.what, event.name)
    count = len(walk.open_case.steps)
    done = tuple(Undone(count, one.kind, one.name) for one in found)
    told = Told(f"Recorded as done: {'; '.join(one.words for one in found)}.")
    return Turn(replace(walk, undone=(*walk.undone, *done)), (told,))


def tell_history(walk: Walk, event: ev.AskHistory) -> Turn:
    """Tell how each suspect moved."""
    del event
    case = walk.open_case
    idle = history.idle_steps(case)
    lines = (*history.numbered(case), *history.told(case), *((idle,) if idle else ()))
    said = tuple(map(sentence, lines))
    return Turn(walk, (Explained("How the suspects moved", said),))
