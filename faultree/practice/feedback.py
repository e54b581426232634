"""Feedback on a finished exercise, step by step, computed from the answers, the aircraft and the engine."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from faultree.base.errors import Contradiction
from faultree.base.words import capital, listing, minutes, percent
from faultree.belief.evidence import Repair
from faultree.practice.exercise import Exercise, Taken
from faultree.practice.judge import CERTAIN, Choice
from faultree.practice.mark import Decision, Mark, Short
from faultree.practice.telling import NOTHING, OPEN, open_suspects, suspect_bits
from faultree.strategy.case import Case
from faultree.walk.titles import title, unit_title

CLEAR = 1.0
"""A decision that gives away less than so many minutes is as good as the best."""

HALVES = 2.0
"""A better check that tells so many times as much makes a weak one a mistake of its own."""

FOUND = 0.5
"""A run that found out less than this share of what was unknown ended too early."""


class Mistake(StrEnum):
    """What went wrong at a decision (the last four: at the end), by what was knowable; the words are a report's."""

    TOLD_NOTHING = "a check that could not change anything"
    AFTER_CERTAINTY = "checking on after enough was known"
    TOO_EARLY = "replacing before a check that was worth its time"
    WRONG_PART = "replacing a part while another one was the better choice"
    FAVOURITE = "looking for a confirmation of the favourite"
    WEAK = "passing over a check that tells more for its time"
    UNSEEN = "not looking first whether the report is true"
    SKIPPED = "a caution that was not read"
    EARLY = "handing over, or running out of time, with most still unknown"
    UNNAMED = "handing over without naming a suspect"
    LESS_LIKELY = "handing over another part than the answers point to"
    NOTHING_THERE = "naming a part though what was reported is not there"


@dataclass(frozen=True, slots=True)
class Comment:
    """What is said about one step: title and outcome, bits and minutes (those of its hints apart), and sentences.

    `bits` is None where the step was no check; `excluded` are the causes that the answer ruled out; `replaced_well`
    is None where nothing was replaced, else whether the unit was at fault.
    """

    title: str
    outcome: str
    minutes: float
    bits: float | None
    regret: float
    mistakes: tuple[Mistake, ...]
    excluded: tuple[str, ...]
    replaced_well: bool | None
    sentences: tuple[str, ...]
    hints: float = 0.0


@dataclass(frozen=True, slots=True)
class Feedback:
    """All comments of a run, when enough was known to act (number of the step before which it was), and the habit."""

    comments: tuple[Comment, ...]
    enough_before: int | None
    needless: tuple[str, ...]  # units put right that were not at fault
    habit: tuple[str, ...]


def feedback(exercise: Exercise, marked: Mark) -> Feedback:
    """Everything that can be said about a run that was marked."""
    comments = tuple(_comment(exercise, decision) for decision in marked.decisions)
    enough = next((n for n, one in enumerate(marked.decisions) if _enough(one)), None)
    needless = tuple(one.taken.target for one in marked.decisions if _needless(exercise, one.taken))
    return Feedback(comments, enough, needless, _habit(marked, comments))


# --- one step ----------------------------------------------------------------------------------


def _comment(exercise: Exercise, decision: Decision) -> Comment:
    taken = decision.taken
    bits = _bits(taken)
    mistakes = tuple(_mistakes(decision, bits))
    excluded = _excluded(taken)
    well = exercise.world.at_fault(taken.target) if taken.action == "replace" else None
    return Comment(
        title=asked_title(exercise, taken),
        outcome=outcome(exercise, taken),
        minutes=taken.minutes,
        bits=bits,
        regret=decision.regret,
        mistakes=mistakes,
        excluded=excluded,
        replaced_well=well,
        sentences=tuple(_sentences(exercise, decision, bits, mistakes, excluded)),
        hints=decision.hints,
    )


def step_title(exercise: Exercise, action: str, target: str) -> str:
    """What a step is called."""
    if action == "look":
        return "Repeat the operational check"
    if action == "hand over":
        return "Hand over to a licensed engineer"
    if action == "replace":
        return f"Put right: {unit_title(exercise.library, target)}"
    return title(exercise.library, target)


def asked_title(exercise: Exercise, taken: Taken) -> str:
    """What a step is called where its outcome stands behind it: with the question that a short answer is one to."""
    if taken.action == "check":
        return exercise.library.checks[taken.target].asked(taken.outcome)
    return step_title(exercise, taken.action, taken.target)


def outcome(exercise: Exercise, taken: Taken) -> str:
    """The outcome of a step in words."""
    if taken.action == "check":
        return exercise.library.checks[taken.target].answer(taken.outcome).text
    if taken.action == "look":
        return "what was reported is there" if taken.outcome == "there" else "what was reported is not there now"
    return "the symptom is gone" if taken.outcome == "gone" else "the symptom is there"


def _bits(taken: Taken) -> float | None:
    """What a check could tell at that moment: 0 where no answer could move a suspect that was open."""
    if taken.action != "check":
        return None
    return 0.0 if taken.looked is False else suspect_bits(taken.before, taken.target)


def _mistakes(decision: Decision, bits: float | None) -> Iterator[Mistake]:
    taken, best = decision.taken, decision.seen.best
    if taken.skipped:
        yield Mistake.SKIPPED
    if best[0] == "look" and taken.action != "look":
        yield Mistake.UNSEEN
    if decision.regret < CLEAR:
        return
    if taken.action == "check" and (taken.looked is False or _enough(decision)):
        yield Mistake.AFTER_CERTAINTY
    elif bits is not None and bits < NOTHING:
        yield Mistake.TOLD_NOTHING
    elif taken.action == "check" and best[0] in ("replace", "hand over"):
        yield Mistake.AFTER_CERTAINTY
    elif taken.action == "replace" and best[0] == "check":
        yield Mistake.TOO_EARLY
    elif taken.action == "replace" and best[0] == "replace":
        yield Mistake.WRONG_PART
    elif taken.action == "check" and best[0] == "check":
        yield Mistake.FAVOURITE if _confirms(taken, best, bits or 0.0) else Mistake.WEAK


def _confirms(taken: Taken, best: Choice, bits: float) -> bool:
    """Whether a check mainly looks at the likeliest unit alone, while another one would have told much more."""
    better = next((one.bits for one in taken.before.checks() if one.check == best[1]), 0.0)
    if better < HALVES * bits:
        return False
    favourite = taken.before.units()[0]
    leaves = taken.before.outlook(taken.target).values()
    moved = {unit.unit: 0.0 for unit in taken.before.units() if unit.probability > OPEN}
    for leaf in leaves:
        after: dict[str, float] = dict.fromkeys(moved, 0.0)
        for one in leaf.ranking:
            unit = one.item or one.cause
            if unit in after:
                after[unit] += one.probability
        for unit, value in after.items():
            moved[unit] += leaf.probability * abs(value - _probability(taken.before, unit))
    return max(moved, key=lambda unit: moved[unit], default="") == favourite.unit


def _probability(case: Case, unit: str) -> float:
    return next((one.probability for one in case.units() if one.unit == unit), 0.0)


def after(taken: Taken) -> Case | None:
    """The case after a step; None where its answer could not be true together with the report."""
    try:
        if taken.action == "check":
            return taken.before.answer(taken.target, taken.outcome)
        if taken.action == "replace":
            return taken.before.repair(taken.target, gone=taken.outcome == "gone")
    except Contradiction:
        return None
    return taken.before


def _excluded(taken: Taken) -> tuple[str, ...]:
    """The suspects that were open before a check and that its answer ruled out."""
    then = after(taken)
    if taken.action != "check" or then is None:
        return ()
    left = {one.cause: one.probability for one in then.ranking()}
    return tuple(cause for cause in open_suspects(taken.before) if left[cause] <= NOTHING)


def _sentences(
    exercise: Exercise, decision: Decision, bits: float | None, mistakes: tuple[Mistake, ...], excluded: tuple[str, ...]
) -> Iterator[str]:
    taken, library = decision.taken, exercise.library
    if taken.looked is False:
        yield "It was known by then that what was reported is not there: nothing was left to find."
    elif Mistake.TOLD_NOTHING in mistakes or (bits is not None and bits < NOTHING):
        yield _why_nothing(exercise, taken)
    if wrong := wrong_answer(exercise, taken):
        yield wrong
    if excluded:
        named = listing([title(library, one) for one in excluded[:4]])
        more = f" and {len(excluded) - 4} more" if len(excluded) > 4 else ""
        yield f"Ruled out: {named}{more}."
    if taken.action == "replace":
        likely = percent(_probability(taken.before, taken.target))
        if exercise.world.at_fault(taken.target):
            yield f"It was at fault; at that moment it was so with {likely}."
        else:
            yield f"It was not at fault (a removal with no fault found); at that moment it was suspected with {likely}."
    if taken.skipped:
        cautions = [library.cautions[one] for one in taken.skipped]
        yield f"Not read before the step: {' '.join(f'{one.level.upper()} “{one.text}”' for one in cautions)}"
    if decision.regret >= CLEAR and decision.seen.best != (taken.action, taken.target) and taken.looked is not False:
        better = step_title(exercise, *decision.seen.best)
        yield f"Better at that moment: {better}; this one costs {minutes(decision.regret)} more on average."


def wrong_answer(exercise: Exercise, taken: Taken) -> str:
    """That the aircraft answered a check wrongly, and how often the check does; empty where the answer was right."""
    if taken.action != "check":
        return ""
    repaired = [one.unit for one in taken.before.steps if isinstance(one, Repair)]
    check, right = exercise.library.checks[taken.target], exercise.world.right_answer(taken.target, repaired)
    if right == taken.outcome:
        return ""
    share = percent(check.confusion(taken.outcome, right))
    return (
        f"This answer was wrong: “{check.answer(right).text}” is true on this aircraft. Where that is so, the check "
        f"says “{check.answer(taken.outcome).text}” all the same in {share} of cases; nobody could know."
    )


def _why_nothing(exercise: Exercise, taken: Taken) -> str:
    """Why a check could not change anything: every suspect that is open predicts the same answer."""
    case, check = taken.before, exercise.library.checks[taken.target]
    suspects = open_suspects(case)
    answers = [
        name
        for name, chance in next(one.answers for one in case.checks() if one.check == taken.target).items()
        if chance > NOTHING
    ]
    if len(answers) == 1 and suspects:
        who = "Both suspects" if len(suspects) == 2 else "Every suspect" if len(suspects) > 2 else "The only suspect"
        verb = "predict" if len(suspects) == 2 else "predicts"
        return f"It could not change anything: {who.lower()} still open {verb} “{check.answer(answers[0]).text}”."
    return "It could not change anything: its answer does not depend on any suspect that is still open."


# --- the whole run -----------------------------------------------------------------------------


def _enough(decision: Decision) -> bool:
    """Whether, before this step, one unit was likely enough to act on and acting was the best next step."""
    action, target = decision.seen.best
    return action == "replace" and _probability(decision.taken.before, target) >= CERTAIN


def _needless(exercise: Exercise, taken: Taken) -> bool:
    return taken.action == "replace" and not exercise.world.at_fault(taken.target)


_ADVICE = {
    Mistake.TOLD_NOTHING: "Ask first what each suspect predicts for a check; where all predict the same, leave it.",
    Mistake.AFTER_CERTAINTY: "When one suspect is left that explains everything, act on it instead of checking on.",
    Mistake.TOO_EARLY: "Before a part is replaced, look for the check that would tell it from its rivals.",
    Mistake.WRONG_PART: "Weigh how likely a part is at fault against what it takes to replace it.",
    Mistake.FAVOURITE: "Choose the check that splits the suspects best, not one that may confirm the first of them.",
    Mistake.WEAK: "Compare what checks tell with what they take: a cheap one that halves the suspects goes first.",
    Mistake.UNSEEN: "Where a report may be wrong, repeat the operational check before anything else.",
    Mistake.SKIPPED: "Read the cautions before every step that has them; a part can be replaced, a hand cannot.",
    Mistake.EARLY: "Look first for the check that tells most.",
    Mistake.UNNAMED: "Say who is suspected, and why, as far as the answers go.",
    Mistake.LESS_LIKELY: "Hand over the part that they leave likeliest.",
    Mistake.NOTHING_THERE: "No part is to be taken out for what is not there.",
}


_SHORT: dict[Short, Mistake] = {
    "early": Mistake.EARLY,
    "unnamed": Mistake.UNNAMED,
    "less likely": Mistake.LESS_LIKELY,
    "nothing there": Mistake.NOTHING_THERE,
}

_NO_PLAN = "Most steps gave minutes away: search without a plan. Before each step, name the suspects still open."

REAL_SHARE = 0.25
"""Minutes given away are a search without a plan where they are this share of those that the best strategy expects."""


def at_the_end(marked: Mark) -> Mistake | None:
    """What was wrong with the end of a run; None where it was a good one, or told by its mark well enough."""
    return _SHORT.get(marked.short) if marked.found < FOUND else None


def _habit(marked: Mark, comments: tuple[Comment, ...]) -> tuple[str, ...]:
    """One or two sentences on what to work on: a skipped caution first, then what gave most minutes away."""
    lost: dict[Mistake, float] = {}
    count: dict[Mistake, int] = {}
    for one in comments:
        for mistake in one.mistakes:
            lost[mistake] = lost.get(mistake, 0.0) + one.regret
            count[mistake] = count.get(mistake, 0) + 1
    order = sorted(lost, key=lambda mistake: (mistake is not Mistake.SKIPPED, -lost[mistake]))
    found = [_habit_words(mistake, count[mistake]) for mistake in order]
    poor = sum(one.regret >= CLEAR for one in comments)
    given = sum(one.regret for one in comments)
    if poor >= 4 and 2 * poor > len(comments) and given >= REAL_SHARE * marked.reference:
        found.insert(int(Mistake.SKIPPED in count), _NO_PLAN)
    if (end := at_the_end(marked)) is not None:
        found.insert(min(1, len(found)), f"{capital(end)}. {_ADVICE[end]}")
    if not found:
        away = "nothing" if given < CLEAR else f"only {minutes(given)}"
        found = [f"No habit to work on in this run: {away} was given away."]
    return tuple(found[:2])


def _habit_words(mistake: Mistake, count: int) -> str:
    times = "once" if count == 1 else f"{count} times"
    return f"{mistake[:1].upper()}{mistake[1:]}, {times}. {_ADVICE[mistake]}"
