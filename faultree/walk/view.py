"""From the state of a walk to the prompt that a face shows; everything a person can choose has a number."""

from __future__ import annotations

from faultree.library.model import Library
from faultree.walk import doubt, figures, follow, further, titles, today, untold
from faultree.walk import events as ev
from faultree.walk.handover import end_prompt, records
from faultree.walk.judge import telling
from faultree.walk.prompt import (
    Choice,
    ClosedPrompt,
    ConflictPrompt,
    ListPrompt,
    NoticePrompt,
    Prompt,
    Reported,
    ReportPrompt,
    StepPrompt,
    Suspects,
    SystemLine,
)
from faultree.walk.records import waiting_titles
from faultree.walk.scale import scale
from faultree.walk.state import CheckStep, Walk
from faultree.walk.step_view import advised, check_choice, check_view, question, repair_view, replace_choice
from faultree.walk.suspects import FAINT, suspects
from faultree.walk.table import Phase

ALTERNATIVES = 3
"""So many other steps are offered beside the one on view; the list shows the rest."""


def prompt(walk: Walk) -> Prompt:
    """What a face shows for this state."""
    match walk.phase:
        case Phase.REPORT:
            return _report(walk.library)
        case Phase.NOTICE:
            return _notice(walk)
        case Phase.CAUTIONS | Phase.CHECK | Phase.REPAIR:
            return _step(walk)
        case Phase.LIST:
            return _everything(walk)
        case Phase.CONFLICT:
            return _conflict(walk)
        case Phase.OVER:
            return end_prompt(walk)
        case Phase.CLOSED:
            return ClosedPrompt(walk.unsaved)


def event_of(shown: Prompt, number: int) -> ev.Event | None:
    """The event that a numbered choice stands for; None where there is no such number."""
    return shown.choices[number - 1].event if 1 <= number <= len(shown.choices) else None


def _report(library: Library) -> ReportPrompt:
    systems = []
    for system in library.systems.values():
        own = [one for one in library.symptoms.values() if one.system == system.id]
        choices = tuple(Choice("symptom", ev.Begin((one.id,)), one.title, detail=one.id) for one in own)
        if choices:
            systems.append(SystemLine(system.title, system.summary, system.chapter, choices))
    return ReportPrompt(tuple(systems), tuple(choice for system in systems for choice in system.choices))


def _notice(walk: Walk) -> NoticePrompt:
    case, library = walk.open_case, walk.library
    found = [library.symptoms[name] for name in case.symptoms]
    reported = tuple(
        Reported(one.title, situation_title(library, one.situation), one.manual, one.note) for one in found
    )
    systems = dict.fromkeys(one.system for one in found)
    authorities = ((library.systems[name].title, library.systems[name].authority) for name in systems)
    return NoticePrompt(
        reported=reported,
        authorities=tuple(pair for pair in authorities if pair[1]),
        steps=tuple(titles.step_words(library, one) for one in case.steps),
        remarks=tuple(remark.text for remark in walk.remarks),
        scale=scale(case),
        records=tuple(records(walk)),
        changes=walk.changes,
        choices=(Choice("acknowledge", ev.Acknowledge(), "I have read this and will follow it"),),
    )


def situation_title(library: Library, situation: str | None) -> str:
    """The title of a situation; empty for the usual one, which has no name."""
    return library.situations[situation].title if situation else ""


def _step(walk: Walk) -> StepPrompt:
    case, pending = walk.open_case, walk.pending
    assert pending is not None  # the machine puts a step on view before it enters these phases
    view = check_view(walk, pending.check) if isinstance(pending, CheckStep) else repair_view(walk, pending.unit)
    return StepPrompt(
        phase=walk.phase,
        number=len(case.steps) + 1,
        minutes=case.minutes,
        reported=tuple(walk.library.symptoms[name].title for name in case.symptoms),
        suspects=_suspects(walk),
        step=view,
        choices=(*question(walk, pending), *advised(walk, ALTERNATIVES)),
        charted=follow.words(walk),
        left_out=tuple(today.words(walk.library, one) for one in walk.lacks),
        unseen=walk.unseen,
        history=walk.library.history,
        only=today.only(walk.by),
        maybe_gone=untold.maybe_gone(case),
    )


def _suspects(walk: Walk) -> Suspects:
    """The suspects beside what they were before the last step, or before a report that came in after it."""
    last = further.newest(walk)
    if last is None:
        return suspects(walk.open_case)
    return suspects(walk.open_case, before=further.before(walk), reported=walk.library.symptoms[last.symptom].title)


def _everything(walk: Walk) -> ListPrompt:
    case = walk.open_case
    checks = figures.checks(case, walk.today)
    useful = list(telling(case, walk.today))
    units = case.units()
    likely = [one for one in units if one.probability >= FAINT and walk.today.repairs]
    return ListPrompt(
        choices=(
            Choice("back", ev.Back(), "Back to where you were"),
            *(check_choice(case, one.check, one.bits, one.minutes) for one in useful),
            *(replace_choice(case, one.unit, one.probability, lacks=walk.lacks) for one in likely),
            *(_available(walk, one) for one in walk.lacks),
        ),
        silent=len(checks) - len(useful),
        unlikely=len(units) - len(likely) if walk.today.repairs else 0,
        only=today.only(walk.by),
    )


def _available(walk: Walk, lack: today.Lack) -> Choice:
    """What is left out today as a choice that takes it back, with the number of steps that wait for it."""
    count = len(waiting_titles(walk, lack))
    if lack.kind in ("check", "unit"):
        return Choice("available", ev.Available(*lack), today.words(walk.library, lack))
    waits = {0: "no step of this case waits for it", 1: "1 step waits for it"}.get(count, f"{count} steps wait for it")
    return Choice("available", ev.Available(*lack), today.words(walk.library, lack), detail=waits)


def _conflict(walk: Walk) -> ConflictPrompt:
    conflict = walk.conflict
    assert conflict is not None  # the machine sets it before it enters this phase
    blamed = doubt.doubted(conflict)
    return ConflictPrompt(
        newest=titles.step_words(walk.library, conflict.newest),
        alone=len(blamed) == 1,
        choices=tuple(
            Choice(
                "look again",
                ev.LookAgain(one[0]),
                titles.sentence(walk.library, one),
                detail="newest" if one == conflict.newest else "",
                if_wrong=doubt.if_wrong(walk.open_case, conflict, one),
            )
            for one in blamed
        ),
    )
