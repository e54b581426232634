"""The machine of a walk: one state and one event give the next state and what is said in passing.

It reads no input, writes no output and ranks nothing itself. An event that is not possible, or names
what is not there, is refused with words and leaves the state as it was; no event raises.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from faultree.base.errors import CaseError, Contradiction, FaultreeError
from faultree.base.words import sentence
from faultree.belief.evidence import Repair, Reply
from faultree.library.model import Library
from faultree.strategy.case import Case
from faultree.strategy.chart.value import Chart
from faultree.walk import cautions, doubt, follow, further, records, saved, steps, titles, undoing
from faultree.walk import events as ev
from faultree.walk.explain import explain
from faultree.walk.judge import next_check, standing_out
from faultree.walk.onward import enter, pending_of, proceed
from faultree.walk.state import (
    CheckStep,
    Conflict,
    Pending,
    Reason,
    Refused,
    Remark,
    RepairStep,
    Told,
    Turn,
    Walk,
)
from faultree.walk.table import TRANSITIONS, Phase


def start(library: Library, by: tuple[str, ...] | None = None, chart: Chart | None = None) -> Walk:
    """A walk at its very beginning, where the report is still to be chosen; it follows a chart of that report."""
    return Walk(library, by=by, chart=chart)


def step(walk: Walk, event: ev.Event) -> Turn:
    """What `event` leads to from `walk`."""
    row = TRANSITIONS[walk.phase]
    if type(event) not in row:
        return Turn(walk, (Refused(_not_here(walk.phase)),))
    try:
        turn = _HANDLERS[type(event)](walk, event)
    except FaultreeError as error:
        return Turn(walk, (Refused(sentence(error)),))
    if turn.walk is not walk and turn.walk.phase not in row[type(event)]:
        raise AssertionError(f"{walk.phase} -{type(event).__name__}-> {turn.walk.phase} is not in the table")
    return replace(turn, said=(*turn.said, follow.LEFT)) if follow.left(walk, turn.walk) else turn


def _not_here(phase: Phase) -> str:
    return {
        Phase.REPORT: "Say first what was reported.",
        Phase.NOTICE: "Read the notice first and say that you did.",
        Phase.CAUTIONS: "Read the cautions first and say that you did, or choose something else.",
        Phase.CONFLICT: "Settle the contradiction first: choose an answer to look at again.",
        Phase.CLOSED: "This walk is closed.",
    }.get(phase, "That is not possible here.")


# --- opening -----------------------------------------------------------------------------------


def _begin(walk: Walk, event: ev.Begin) -> Turn:
    if not event.symptoms:
        raise CaseError("no symptom is named; choose at least one")
    try:
        case = Case.open(walk.library, list(event.symptoms))
        case.ranking()
    except Contradiction as error:
        raise CaseError(f"these reports cannot all be true together ({error}); choose fewer of them") from error
    return Turn(replace(walk, phase=Phase.NOTICE, case=case))


def _resume(walk: Walk, event: ev.Resume) -> Turn:
    taken = replace(saved.unpack(walk.library, event.saved), chart=walk.chart)
    if walk.by is not None:  # who is there now goes before who was there then
        taken = replace(taken, by=walk.by, saved=taken.saved._replace(by=walk.by))
    if event.saved.get("library") == walk.library.digest:
        return Turn(taken)
    return Turn(taken, (Told(taken.changes[0]),))


def _acknowledge(walk: Walk, event: ev.Acknowledge) -> Turn:
    del event
    if walk.phase is Phase.NOTICE:
        return _settle(walk)
    read = walk.read | {caution.id for caution in cautions.before(walk.open_case, pending_of(walk))}
    return Turn(enter(replace(walk, read=read), pending_of(walk)))


# --- moving on ---------------------------------------------------------------------------------


def _settle(walk: Walk) -> Turn:
    """Go on after the notice: to the answer that still waits in a resumed case, or to the next step."""
    if walk.conflict is None:
        return Turn(proceed(walk))
    return _learn(replace(walk, conflict=None), walk.conflict.newest)


def _learn(walk: Walk, newest: Reply | Repair) -> Turn:
    """Add a step to the case and go on, or show which steps contradict each other."""
    try:
        case = steps.add(walk.open_case, newest)
        case.ranking()
    except Contradiction as error:
        named = tuple(one for one in error.steps if isinstance(one, Reply | Repair)) or (newest,)
        blamed = (*named, *doubt.presupposed(walk.open_case, newest, named))
        return Turn(replace(walk, phase=Phase.CONFLICT, pending=None, reason=None, conflict=Conflict(newest, blamed)))
    return Turn(proceed(replace(walk, case=case)))


# --- answers -----------------------------------------------------------------------------------


def _answer(walk: Walk, event: ev.AnswerCheck) -> Turn:
    check = walk.library.checks[_check(walk)]
    return _learn(walk, Reply(check.id, check.answer(event.answer).id))


def _check(walk: Walk) -> str:
    pending = pending_of(walk)
    if not isinstance(pending, CheckStep):
        raise CaseError("no check is on view")
    return pending.check


def _cannot_tell(walk: Walk, event: ev.CannotTell) -> Turn:
    del event
    if isinstance(walk.pending, RepairStep):
        return _learn(walk, Repair(walk.pending.unit, None))
    return _learn(walk, Reply(_check(walk), None))


def _retest(walk: Walk, event: ev.Retest) -> Turn:
    pending = pending_of(walk)
    if not isinstance(pending, RepairStep):
        raise CaseError("no replacement is on view")
    return _learn(walk, Repair(pending.unit, event.gone))


def _take_up(walk: Walk, event: ev.TakeUp) -> Turn:
    _still_searching(walk)
    check = walk.library.check_id(event.check)
    earlier = next((one for one in walk.open_case.steps if isinstance(one, Reply) and one.check == check), None)
    if earlier is None:
        return Turn(enter(walk, CheckStep(check)))
    # A check counts once: to answer it anew is to take the earlier answer back.
    anew = undoing.lacking(walk, walk.open_case.without(check), earlier)
    return Turn(enter(anew, CheckStep(check)), (_taken_back(walk, earlier),))


def _replace(walk: Walk, event: ev.Replace) -> Turn:
    _still_searching(walk)
    if not walk.today.repairs:
        raise CaseError("a crew puts nothing right: finish, and the line goes on; by anyone lifts that")
    unit = walk.open_case.unit_id(event.unit)
    if any(isinstance(one, Repair) and one.unit == unit for one in walk.open_case.steps):
        raise CaseError(f"'{titles.unit_title(walk.library, unit)}' has been replaced already in this case")
    return Turn(enter(walk, RepairStep(unit)))


def _still_searching(walk: Walk) -> None:
    """Refuse what makes no sense once the symptom is gone, or would lose an answer that contradicts the others."""
    if walk.conflict is not None:
        raise CaseError("the answers still contradict each other; carry on takes you back to them")
    if walk.reason is Reason.RESTORED:
        raise CaseError("the symptom is gone; undo takes that back")


# --- second thoughts ---------------------------------------------------------------------------


def _undo(walk: Walk, event: ev.Undo) -> Turn:
    del event
    if walk.conflict is not None:
        newest = walk.conflict.newest
        return Turn(enter(undoing.taken_back(walk, newest), _asked(newest)), (_taken_back(walk, newest),))
    if further.newest(walk) is not None:
        return further.taken_back(walk)
    taken = walk.open_case.steps
    if not taken:
        raise CaseError("there is no answer to take back yet")
    back = enter(undoing.lacking(walk, walk.open_case.undo(), taken[-1]), _asked(taken[-1]))
    return Turn(back, (_taken_back(walk, taken[-1]),))


def _taken_back(walk: Walk, one: Reply | Repair) -> Told:
    return Told(f"Taken back: {titles.sentence(walk.library, one)}.")


def _asked(one: Reply | Repair) -> Pending:
    """The step on view at which `one` was the answer."""
    return CheckStep(one.check) if isinstance(one, Reply) else RepairStep(one.unit)


def _look_again(walk: Walk, event: ev.LookAgain) -> Turn:
    if walk.conflict is None:
        raise CaseError("nothing contradicts")
    newest = walk.conflict.newest
    chosen = next((one for one in (*walk.conflict.steps, newest) if event.step in one[:1]), None)
    if chosen is None:
        raise CaseError(f"'{event.step}' is none of the answers that contradict each other")
    walk = replace(walk, withdrawn=(*walk.withdrawn, chosen))
    if chosen == newest:
        return Turn(enter(walk, _asked(chosen)))
    kept = replace(undoing.lacking(walk, steps.without(walk.open_case, chosen), chosen), conflict=None)
    learnt = _learn(kept, newest).walk
    return Turn(learnt if learnt.conflict else enter(learnt, _asked(chosen)))


# --- remarks and endings -----------------------------------------------------------------------


def _why(walk: Walk, event: ev.AskWhy) -> Turn:
    return Turn(walk, (explain(walk, event.name),))


def _note(walk: Walk, event: ev.Note) -> Turn:
    text = " ".join(event.text.split())
    if not text:
        raise CaseError("the note is empty; write it behind the word 'note'")
    remark = Remark(len(walk.open_case.steps), text)
    return Turn(replace(walk, remarks=(*walk.remarks, remark)), (Told(f"Noted: {text}"),))


def _save(walk: Walk, event: ev.Save) -> Turn:
    return Turn(replace(walk, saved=walk.fingerprint), (Told(f"Saved in {event.name}."),))


def _show_all(walk: Walk, event: ev.ShowAll) -> Turn:
    del event
    _still_searching(walk)
    return Turn(replace(walk, phase=Phase.LIST))


def _back(walk: Walk, event: ev.Back) -> Turn:
    del event
    if walk.reason is not None:
        return Turn(replace(walk, phase=Phase.OVER))
    return Turn(proceed(walk) if walk.pending is None else enter(walk, walk.pending))


def _finish(walk: Walk, event: ev.Finish) -> Turn:
    del event
    if walk.phase is Phase.OVER:
        raise CaseError("the search is over already; quit leaves, carry on goes back to the checks")
    reason = walk.reason or (Reason.UNEXPLAINED if walk.conflict else Reason.WISHED)
    return Turn(replace(walk, phase=Phase.OVER, pending=None, reason=reason))


def _carry_on(walk: Walk, event: ev.CarryOn) -> Turn:
    del event
    if walk.conflict is not None:
        return Turn(replace(walk, phase=Phase.CONFLICT, reason=None))
    _still_searching(walk)
    case = walk.open_case
    if walk.reason is Reason.WISHED:
        return Turn(proceed(walk))
    check = next_check(case, walk.today)
    if check is None:
        raise CaseError("no check that is left can tell more apart")
    return Turn(enter(replace(walk, declined=standing_out(case, walk.today)), check))


def _quit(walk: Walk, event: ev.Quit) -> Turn:
    del event
    return Turn(replace(walk, phase=Phase.CLOSED))


_HANDLERS: dict[type[ev.Event], Callable[[Walk, Any], Turn]] = {
    ev.Begin: _begin,
    ev.Resume: _resume,
    ev.Also: further.also,
    ev.By: records.by,
    ev.Acknowledge: _acknowledge,
    ev.AnswerCheck: _answer,
    ev.CannotTell: _cannot_tell,
    ev.TakeUp: _take_up,
    ev.Replace: _replace,
    ev.Retest: _retest,
    ev.LookAgain: _look_again,
    ev.Undo: _undo,
    ev.NotToday: records.not_today,
    ev.Available: records.available,
    ev.CannotDuplicate: records.cannot_duplicate,
    ev.SeenAgain: records.seen_again,
    ev.Closed: records.closed,
    ev.AskHistory: records.tell_history,
    ev.AskWhy: _why,
    ev.ShowAll: _show_all,
    ev.Back: _back,
    ev.Note: _note,
    ev.Save: _save,
    ev.Finish: _finish,
    ev.CarryOn: _carry_on,
    ev.Quit: _quit,
}
