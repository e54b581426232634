"""The end of a walk: what is likely, what is not excluded, and the text to hand over to whoever goes on."""

from __future__ import annotations

from collections.abc import Iterator

from faultree.base.words import listing, minutes, percent
from faultree.belief.evidence import Repair, Reply
from faultree.strategy.case import Case, Unit
from faultree.walk import doubt, follow, titles
from faultree.walk import events as ev
from faultree.walk.judge import next_check
from faultree.walk.prompt import NOTICE, CautionLine, Choice, EndPrompt, UnitLine
from faultree.walk.scale import scale
from faultree.walk.state import Conflict, Reason, RepairStep, Walk
from faultree.walk.step_view import caution_lines, replace_choice
from faultree.walk.suspects import FAINT, NOTABLE, ever_pointed_to, together

LIKELY = 4
"""At most so many units are called likely."""

OTHERS = 8
"""At most so many further units are named as not excluded."""

REPLACEMENTS = 3
"""So many replacements are offered at the end."""


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
        minutes=case.minutes,
        likely=tuple(unit_line(case, unit) for unit in likely),
        others=tuple(unit_line(case, unit) for unit in others),
        more=len(rest) - len(others),
        together=() if silent else together(case),
        handover=tuple(text(walk)),
        cautions=_cautions(walk, likely),
        choices=tuple(_choices(walk, likely)),
        charted=follow.words(walk),
    )


def split(units: tuple[Unit, ...]) -> tuple[tuple[Unit, ...], tuple[Unit, ...]]:
    """The likely units (at least half as likely as the first) and all the others."""
    likely = tuple(unit for unit in units[:LIKELY] if unit.probability >= units[0].probability / 2)
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
    return tuple(lines.values())


def _choices(walk: Walk, likely: tuple[Unit, ...]) -> Iterator[Choice]:
    case = walk.open_case
    if walk.reason is Reason.RESTORED:
        return
    if walk.reason is Reason.UNEXPLAINED:
        yield Choice("carry on", ev.CarryOn(), "Look at the contradicting answers again")
        return
    for unit in likely[:REPLACEMENTS]:
        yield replace_choice(case, unit.unit, unit.probability)
    if next_check(case, walk.by):
        yield Choice("carry on", ev.CarryOn(), "Carry on checking")


# --- the text to hand over ---------------------------------------------------------------------


def text(walk: Walk) -> Iterator[str]:
    """The hand-over, line by line; every heading ends with a colon and its entries begin with "- "."""
    case, library = walk.open_case, walk.library
    yield "Reported:"
    yield from (f"- {library.symptoms[name].title}" for name in case.symptoms)
    yield from _done(walk)
    yield from _withdrawn(walk)
    yield from _findings(walk)
    yield from _closing(case)
    if walk.remarks:
        yield "Notes:"
        yield from (f"- {remark.text}" for remark in walk.remarks)
    yield f"Time spent: {minutes(case.minutes)}"
    yield from filter(None, (scale(case),))
    yield from _authority(case)
    yield NOTICE


def _done(walk: Walk) -> Iterator[str]:
    steps = walk.open_case.steps
    yield "Done:" if steps else "Done: no check yet"
    yield from (f"- {titles.sentence(walk.library, step)}" for step in steps)


def _withdrawn(walk: Walk) -> Iterator[str]:
    if walk.withdrawn:
        yield "Answered, then looked at again because it contradicted other answers:"
        yield from (f"- {titles.sentence(walk.library, step)}" for step in walk.withdrawn)


def _findings(walk: Walk) -> Iterator[str]:
    case = walk.open_case
    if walk.reason is Reason.RESTORED:
        last = case.steps[-1]
        assert isinstance(last, Repair)  # only a replacement restores
        yield f"Restored by replacing: {titles.unit_title(walk.library, last.unit)}"
        latent = still_suspected(case)
        if latent:
            yield "Still suspected although the symptom is gone; it may have taken more than one fault:"
            yield from (f"- {_unit(unit_line(case, unit))}" for unit in latent)
        return
    if walk.conflict:
        yield "These answers cannot all be true, and that is not settled:"
        yield from (f"- {_doubtful(case, walk.conflict, step)}" for step in doubt.doubted(walk.conflict))
        return
    likely, rest = split(case.units())
    yield "Likely:" if likely else "Likely: nothing in the tree explains what is left"
    yield from (f"- {_unit(unit_line(case, unit))}" for unit in likely)
    named = worth_naming(case, rest)
    if named:
        yield "Not excluded:"
        yield from (f"- {titles.unit_title(walk.library, unit.unit)}, {percent(unit.probability)}" for unit in named)
    faint = len(rest) - len(named)
    if faint:
        yield f"Not excluded but unlikely: {faint} more"


def _doubtful(case: Case, conflict: Conflict, step: Reply | Repair) -> str:
    lead = doubt.if_wrong(case, conflict, step)
    follows = f"; if this one is wrong, {lead[0]} is likeliest ({percent(lead[1])})" if lead else ""
    return titles.sentence(case.library, step) + follows


def _unit(one: UnitLine) -> str:
    parts = [one.title, percent(one.probability), one.place, one.manual]
    return ", ".join(part for part in parts if part)


def _closing(case: Case) -> Iterator[str]:
    """What was opened and has to be closed again."""
    opened = [case.library.access[name] for name in case.library.access if name in case.opened]
    if opened:
        yield "Opened, to be closed again and recorded:"
        yield from (f"- {one.title}" for one in opened)


def _authority(case: Case) -> Iterator[str]:
    systems = dict.fromkeys(case.library.symptoms[name].system for name in case.symptoms)
    named = [case.library.systems[name].authority for name in systems]
    if any(named):
        yield f"Approved data: {listing(dict.fromkeys(one for one in named if one))}"
