"""What a saved case keeps of the tree it was made with, and what has changed in the tree since."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from faultree.base.words import listing, percent
from faultree.belief.evidence import Repair, Reply
from faultree.library import marks
from faultree.library.model import Library
from faultree.strategy.case import Case
from faultree.walk import titles
from faultree.walk.fitting import Fitted
from faultree.walk.state import Unfit
from faultree.walk.suspects import FAINT
from faultree.walk.unfit import unfit_words

MOST = 8
"""So many suspects are kept with their likelihoods."""

UNTOLD = "The tree files have changed since this case was saved; the file does not hold enough to say how."
NOTHING = "The tree files have changed since this case was saved, but nothing that its figures rest on."
CHANGED = "The tree files have changed since this case was saved; the figures are new."


def snapshot(case: Case, *, ranked: bool = True) -> dict[str, object]:
    """What of the tree a case rests on: its reports in words, marks of systems and checks, and its suspects.

    `ranked` False leaves the suspects out: contradicting answers are not answered with a ranking.
    """
    library = case.library
    checks = dict.fromkeys(step.check for step in case.steps if isinstance(step, Reply))
    kept: dict[str, object] = {
        "reports": {name: library.symptoms[name].title for name in case.symptoms},
        "systems": marks.systems(library),
    }
    if checks:
        kept["checks"] = {name: _mark(library, name) for name in checks}
    if ranked:
        kept["suspects"] = [
            {
                "cause": one.cause,
                "title": library.causes[one.cause].title,
                "likelihood": one.prior,
                "probability": round(one.probability, 4),
            }
            for one in case.ranking()[:MOST]
            if one.implicated and one.probability >= FAINT
        ]
    return kept


def _mark(library: Library, check: str) -> str:
    entry = library.checks[check]
    return marks.check(entry, library.settings(entry.situation))


def step_data(library: Library, step: Reply | Repair) -> dict[str, object]:
    """One step as plain data with its words beside the ids, so that a colleague can read it and a rename be told."""
    if isinstance(step, Repair):
        return {"repair": step.unit, "gone": step.gone, "title": titles.unit_title(library, step.unit)}
    check = library.checks[step.check]
    found = {} if step.answer is None else {"found": check.answer(step.answer).text}
    asked = {"asked": check.ask} if check.asked(step.answer) != check.title else {}
    return {"check": step.check, "answer": step.answer, "title": check.title, **asked, **found}


def told(data: Mapping[str, object], fitted: Fitted, before: Collection[Unfit] = ()) -> tuple[str, ...]:
    """What has changed since a case was saved, as sentences, the gravest first; `before` did not fit even then."""
    kept = data.get("tree")
    if not isinstance(kept, Mapping):
        return (UNTOLD, *fitted.notes, *_fits(fitted, before))
    found = [*fitted.notes, *_wordings(data, fitted), *_checks(kept, fitted), *_suspects(kept, fitted)]
    systems = _systems(kept, fitted.case.library)
    if not (found or systems or len(fitted.unfit) > len(before)):
        return (NOTHING,)
    return (CHANGED, *_fits(fitted, before), *found, *systems)


def _fits(fitted: Fitted, before: Collection[Unfit]) -> Iterator[str]:
    """How much of the case still holds, and each part that does not."""
    held = fitted.total - sum(one.part == "steps" for one in before)
    if held and len(fitted.case.steps) >= held:
        yield "Every step of the case still fits."
    elif held:
        yield f"{len(fitted.case.steps)} of {held} steps still fit."
    for one in fitted.unfit:
        yield f"Kept, but it counts for nothing: {unfit_words(one)}."


def _wordings(data: Mapping[str, object], fitted: Fitted) -> Iterator[str]:
    """Titles and answers that read otherwise now."""
    library = fitted.case.library
    reports = _table(_table(data, "tree"), "reports")
    for name in fitted.case.symptoms:
        yield from _reads("report", reports.get(name), library.symptoms[name].title)
    saved = data.get("steps")
    for one in saved if isinstance(saved, list) else ():
        check = library.checks.get(str(one.get("check")))
        if check is None:
            continue
        yield from _reads("check", one.get("title"), check.title)
        text = next((answer.text for answer in check.answers if answer.id == one.get("answer")), None)
        if text is not None and one.get("found") not in (None, text):
            yield f"The answer “{one['found']}” of “{check.title}” now reads “{text}”: see whether it is still right."


def _reads(kind: str, before: object, now: str) -> Iterator[str]:
    if isinstance(before, str) and before != now:
        yield f"The {kind} “{before}” is now called “{now}”."


def _checks(kept: Mapping[str, object], fitted: Fitted) -> Iterator[str]:
    """Checks whose answers mean something else now."""
    library = fitted.case.library
    before = _table(kept, "checks")
    for step in fitted.case.steps:
        if isinstance(step, Reply) and step.check in before and before[step.check] != _mark(library, step.check):
            title = library.checks[step.check].title
            yield f"What “{title}” looks at, or how sure it is, has changed: see whether the answer is still right."


def _suspects(kept: Mapping[str, object], fitted: Fitted) -> Iterator[str]:
    """The main suspects of then: what became of their likelihoods, and of them."""
    causes = fitted.case.library.causes
    now = {one.cause: one.probability for one in fitted.case.ranking()}
    saved = kept.get("suspects")
    for one in saved if isinstance(saved, list) else ():
        if not isinstance(one, Mapping):
            continue
        name, before, then = str(one.get("cause")), one.get("likelihood"), one.get("probability")
        if name not in causes:
            yield f"The suspect “{one.get('title', name)}” is no longer in the tree."
        elif isinstance(before, int | float) and abs(before - causes[name].probability) > 1e-9:
            likelihoods = f"{before:g} to {causes[name].probability:g}"
            moved = f" (suspected {percent(then)} then, {percent(now[name])} now)" if isinstance(then, float) else ""
            yield f"The likelihood of “{causes[name].title}” was changed from {likelihoods}{moved}."


def _systems(kept: Mapping[str, object], library: Library) -> list[str]:
    """The systems whose logic, checks or likelihoods are others now."""
    before, now = _table(kept, "systems"), marks.systems(library)
    changed = [f"“{library.systems[name].title}”" for name in now if name in before and before[name] != now[name]]
    new = [f"“{library.systems[name].title}”" for name in now if name not in before]
    gone = [f"“{name}”" for name in before if name not in now]
    found = []
    if changed:
        found.append(f"Logic, checks or likelihoods were changed in {listing(changed)}.")
    if new:
        found.append(f"New in the library: {listing(new)}.")
    if gone:
        found.append(f"No longer in the library: {listing(gone)}.")
    return found


def _table(data: Mapping[str, object], key: str) -> Mapping[str, object]:
    found = data.get(key)
    return found if isinstance(found, Mapping) else {}
