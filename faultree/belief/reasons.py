"""Why a cause is suspected, or excluded, in plain sentences."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from faultree.base.words import listing, percent
from faultree.belief.conflict import minimal_core
from faultree.belief.evidence import Reply, Step
from faultree.belief.explain import log_likelihood, smallest_part
from faultree.belief.trace import trace_of

if TYPE_CHECKING:
    from faultree.belief.engine import Given
    from faultree.belief.posterior import Posterior
    from faultree.library.model import Library


def why_cause(posterior: Posterior, cause: str) -> tuple[str, ...]:
    """The steps that lead from a cause to each report, or what excludes it.

    Where the cause is not enough by itself, the likeliest company that makes it so is named.
    """
    frame = posterior.frame
    root, _ = frame.prior.seat[cause]
    title = quoted(frame.library.causes[cause].title)
    if root in posterior.repaired:
        unit = quoted(unit_title(frame.library, frame.prior.roots[root].unit))
        return (f"{title} is out: {unit} was put right in this case.",)
    if root not in posterior.implicated:
        return (f"{title} has no part in this: nothing seen so far depends on it. It is as likely as it always is.",)
    given = posterior.present(cause)
    if posterior.log_z_given(given) == float("-inf"):
        if posterior.result.bound > 0.0:
            return (f"No fault set with {title} was found that explains everything; not all could be tried.",)
        return _excluded(posterior, cause, given)
    _, company = posterior.best_given(given)
    sentences = [sentence for name in posterior.symptoms for sentence in _leads_to(posterior, cause, company, name)]
    return (*sentences, *_against(posterior, given))


def _leads_to(posterior: Posterior, cause: str, company: frozenset[str], symptom: str) -> list[str]:
    """From the cause, with the likeliest company that explains everything, to one report."""
    library = posterior.frame.library
    reading = next(r for r, name in zip(posterior.readings, posterior.symptoms, strict=False) if name == symptom)
    hard = reading._replace(off=0.0, on=1.0)
    needed = smallest_part(posterior.frame, [hard], company)
    report = quoted(library.symptoms[symptom].title)
    title = quoted(library.causes[cause].title)
    if log_likelihood(posterior.frame, [hard], needed) == float("-inf"):
        return [f"{title} does not lead to {report}: beside it, that is most likely a false report."]
    if cause not in needed:
        other = smallest_part(posterior.frame, [hard], posterior.company_of(cause))
        needed = other if cause in other else needed
    if cause not in needed:
        if not needed:
            return [f"{title} has no part in {report}: that would be reported with nothing wrong at all."]
        others = listing(quoted(library.causes[one].title) for one in sorted(needed))
        return [f"{title} has no part in {report}: something else must be wrong, most likely {others}."]
    trace = trace_of(posterior.frame, symptom, needed, cause)
    path = trace.path(cause)
    chain = [trace.sentence(before, after) for before, after in pairwise(path)]
    return [_suppose(library, cause, needed, trace.situation), *chain, f"That is the report: {report}."]


def _suppose(library: Library, cause: str, needed: frozenset[str], situation: str) -> str:
    """The opening: the cause, what it takes besides, and where."""
    titles = [quoted(library.causes[one].title) for one in sorted(needed - {cause})]
    where = f" in the situation {quoted(situation)}" if situation else ""
    opening = f"Suppose {quoted(library.causes[cause].title)}"
    if not titles:
        return f"{opening}{where}."
    return (
        f"{opening} together with {listing(titles)}{where}; it takes {'both' if len(titles) == 1 else 'all of them'}."
    )


def _excluded(posterior: Posterior, cause: str, given: Given) -> tuple[str, ...]:
    """The smallest set of answers that leaves no room for the cause."""
    library = posterior.frame.library
    title = quoted(library.causes[cause].title)

    def log_z(steps: Sequence[Step]) -> float:
        return posterior.log_z_of(steps, given)

    if log_z(()) == float("-inf"):
        reports = listing(quoted(library.symptoms[name].title) for name in posterior.symptoms)
        return (f"{title} is excluded by the report itself: with it, {reports} could not be seen.",)
    core = minimal_core(posterior.steps, log_z)
    said = [f"{quoted(step_title(library, step))} {step_outcome(library, step)}" for step in core]
    if len(core) == 1 and isinstance(core[0], Reply):
        would = _would_be(posterior, core[0], given)
        return (f"{title} is excluded by one answer: {said[0]}. With it, the answer would have been {would}.",)
    if len(core) == 1:
        return (f"{title} is excluded by one observation: {said[0]}.",)
    return (
        f"{title} is excluded by {len(core)} answers together: {'; '.join(said)}. No single one of them would do it.",
    )


def _would_be(posterior: Posterior, reply: Reply, given: Given) -> str:
    """The answers that the cause would have allowed, with the reports alone."""
    answers = posterior.frame.library.checks[reply.check].answers
    others = [answer for answer in answers if answer.id != reply.answer]
    return listing([quoted(one.text) for one in others if posterior.allows(reply, one.id, given)], "or")


def _against(posterior: Posterior, given: Given) -> list[str]:
    """Answers that made the cause less likely by a factor of two or more, strongest first."""
    library = posterior.frame.library
    found = []
    for step in posterior.steps:
        others = [one for one in posterior.steps if one is not step]
        if isinstance(step, Reply) and step.answer is not None:
            before = posterior.log_z_of(others, given) - posterior.log_z_of(others)
            after = posterior.log_z_of(posterior.steps, given) - posterior.log_z_of(posterior.steps)
            if after - before < -0.69:
                found.append((after - before, step))
    found.sort(key=lambda one: one[0])
    return [
        f"Against it speaks {quoted(step_title(library, step))} {step_outcome(library, step)}, "
        "though that does not exclude it."
        for _, step in found[:3]
    ]


def why_check(posterior: Posterior, check: str, most: int = 8) -> tuple[str, ...]:
    """What a check separates: which of the likeliest suspects would give which answer."""
    library = posterior.frame.library
    entry = library.checks[check]
    done = next((step for step in posterior.steps if isinstance(step, Reply) and step.check == check), None)
    if done is not None:
        return (
            f"{quoted(entry.asked(done.answer))} {step_outcome(library, done)} in this case. {_moved(posterior, done)}",
        )
    suspects = [one for one in posterior.ranking() if one.implicated and one.probability > 0.005][:most]
    predicted = posterior.predicted(check, [one.cause for one in suspects])
    sentences, split = [], set()
    for row, answer in enumerate(entry.answers):
        pointing = [one for column, one in enumerate(suspects) if predicted[row][column] >= 0.8]
        split |= {one.cause for one in pointing}
        if pointing:
            named = listing(f"{library.causes[one.cause].title} ({percent(one.probability)})" for one in pointing)
            sentences.append(f"{quoted(answer.text)} is what to expect from: {named}.")
        else:
            sentences.append(f"{quoted(answer.text)} is expected from none of the main suspects.")
    either = [one for one in suspects if one.cause not in split]
    if either:
        sentences.append(f"Either way open: {listing(library.causes[one.cause].title for one in either)}.")
    return tuple(sentences)


def _moved(posterior: Posterior, done: Reply) -> str:
    if done.answer is None:
        return "It could not be told, so it changed nothing."
    library = posterior.frame.library
    others = [step for step in posterior.steps if step is not done]
    gone = [one.cause for one in posterior.ranking() if one.implicated and one.probability == 0.0]
    possible = [cause for cause in gone if posterior.log_z_of(others, posterior.present(cause)) > float("-inf")]
    out = [library.causes[cause].title for cause in possible]
    if not out:
        return "By itself it excluded nothing; it made some suspects more likely than others."
    if len(out) > 8:
        return f"It excluded {len(out)} causes, among them {listing(out[:6])}."
    return f"It excluded {listing(out)}."


def quoted(text: str) -> str:
    """A title as it stands, in quotation marks."""
    return f"“{text}”"


def unit_title(library: Library, unit: str) -> str:
    """The title of an item, or of a cause without one."""
    return (library.items[unit] if unit in library.items else library.causes[unit]).title


def step_title(library: Library, step: Step) -> str:
    """What the check asked, or the title of the unit put right."""
    return library.checks[step.check].asked(step.answer) if isinstance(step, Reply) else unit_title(library, step.unit)


def step_outcome(library: Library, step: Step) -> str:
    """What came of a step, as the end of a sentence about it."""
    if isinstance(step, Reply):
        if step.answer is None:
            return "could not be told"
        return f"was answered {quoted(library.checks[step.check].answer(step.answer).text)}"
    if step.gone is None:
        return "was put right, and whether that cleared the report could not be told"
    return f"was put right and the report was {'gone' if step.gone else 'still there'}"
