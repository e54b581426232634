"""The screen of a step: what the last answer changed, the suspects, and the check or replacement at hand."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Group, RenderableType
from rich.text import Text

from faultree.base.words import listing, minutes, percent
from faultree.terminal.look import Page, text, title
from faultree.terminal.parts import caution_rows, choice_rows, heading, indented, joined, rows, suspect_table
from faultree.walk import effort
from faultree.walk.prompt import AccessLine, Change, CheckView, Choice, RepairView, StepPrompt
from faultree.walk.table import Phase

NAMED = 3
"""So many suspects that an answer excluded are named; the rest are counted."""

OWN = ("acknowledge", "answer", "cannot tell", "retest")
"""The choices that belong to the step on view; the others lead to another step."""

WHO = {"crew": "the crew can tell", "line": "on the aircraft", "shop": "in the workshop"}
"""Who or where, for a check."""


def draw_step(shown: StepPrompt, page: Page, *, brief: bool = False) -> RenderableType:
    """The whole screen; `brief` leaves out what stands right above it, where only cautions were acknowledged."""
    if brief:
        return Group("", *_choices(shown, page, _named_question(shown)))
    spent = f"{minutes(shown.minutes)} so far" if shown.minutes else ""
    parts: list[RenderableType] = ["", heading(f"Step {shown.number}: {listing(shown.reported)}", page, spent)]
    if shown.suspects.change:
        parts += [change_words(shown.suspects.change), ""]
    parts += [Text("Suspects", "bold"), suspect_table(shown.suspects, page)]
    parts += [text(shown.maybe_gone, "bold")] if shown.maybe_gone else []
    parts += [text(shown.history, "dim"), ""] if shown.history else [""]
    step = shown.step
    on = f" ({shown.charted})" if shown.charted else ""
    parts += list(_check(step, on) if isinstance(step, CheckView) else _repair(step, on))
    return Group(*parts, "", *_choices(shown, page))


def change_words(change: Change) -> RenderableType:
    """What the last step was and what it changed."""
    if change.outcome:
        lines = [Text.assemble("Done: ", text(change.title)), Text.assemble("Found: ", title(change.outcome, "bold"))]
    else:
        lines = [Text.assemble("Also reported: ", text(change.title, "bold"))]
    if change.excluded:
        lines.append(Text.assemble("Now excluded: ", text(_some(change.excluded))))
    if change.unlikely < 1.0:
        lines.append(
            text(
                f"That changes no suspect, and it does not fit: it had a chance of {percent(change.unlikely)}. Ask "
                "again; the answer may be mistaken, or the report."
            )
        )
    elif not change.moved:
        lines.append(Text("That changes no suspect."))
    return Group(*lines)


def _some(titles: tuple[str, ...]) -> str:
    rest = len(titles) - NAMED
    return f"{', '.join(titles[:NAMED])} and {rest} more" if rest > 0 else listing(titles)


# --- the step ----------------------------------------------------------------------------------


def _check(check: CheckView, on: str) -> Iterator[RenderableType]:
    yield Text.assemble((f"Next check{on}: ", "bold"), text(check.title, "bold"))
    yield rows(((Text(label, "dim"), part) for label, part in _check_facts(check)), first=7)
    if check.cautions:
        yield caution_rows(check.cautions)


def _check_facts(check: CheckView) -> Iterator[tuple[str, Text]]:
    yield "Why", text(f"{check.why} {_expects(check.expected_minutes)}".strip())
    yield "Takes", text(f"{effort.words(check.effort)}; {WHO[check.by]}")
    if check.situation:
        yield "When", title(check.situation)
    yield from _access(check.access)
    if check.places:
        yield "Parts", joined((_placed(name, place) for name, place in check.places), "; ")
    if check.tools:
        yield "Tools", title(", ".join(check.tools))
    yield from _today(check.missing)
    if check.manual:
        yield "Manual", text(check.manual)
    if check.note:
        yield "Note", title(check.note)


def _today(missing: tuple[str, ...]) -> Iterator[tuple[str, Text]]:
    """What a step needs that is not there, where it is taken up all the same."""
    if missing:
        yield "Today", text(f"Said not to be available: {listing(missing)}", "yellow")


def _placed(name: str, place: str) -> Text:
    return text(f"{name} ({place})" if place else name)


def _access(access: tuple[AccessLine, ...]) -> Iterator[tuple[str, Text]]:
    still = [f"{one.title} ({minutes(one.minutes)})" for one in access if not one.open]
    done = [one.title for one in access if one.open]
    if still:
        yield "Access", title(listing(still))
    if done:
        yield "Access", text(f"Done already: {listing(done)}")


def _expects(expected: float | None) -> str:
    return "" if expected is None else f"The job then takes {minutes(expected)} on average."


def _repair(repair: RepairView, on: str) -> Iterator[RenderableType]:
    yield Text.assemble((f"To put right next{on}: ", "bold"), text(repair.title, "bold"))
    yield rows(((Text(label, "dim"), part) for label, part in _repair_facts(repair)), first=7)
    if repair.cautions:
        yield caution_rows(repair.cautions)


def _repair_facts(repair: RepairView) -> Iterator[tuple[str, Text]]:
    yield "Why", text(" ".join((_suspected(repair), _expects(repair.expected_minutes))))
    yield "Takes", text(effort.words(repair.effort))
    yield from _access(repair.access)
    if repair.place:
        yield "Where", title(repair.place)
    if repair.manual:
        yield "Manual", text(repair.manual)
    yield from _today(repair.missing)
    yield "Then", text(f"Repeat the operational check and see whether it still holds: {_retests(repair)}.")
    if repair.away:
        yield "", text(f"It was seen in: {listing(repair.away)}. What cannot be shown on the ground: type can't tell.")
    if repair.unseen:
        yield (
            "Seen",
            text("The symptom was away before this. That it is away afterwards proves nothing: type can't tell."),
        )


def _suspected(repair: RepairView) -> str:
    if not repair.causes:
        return "Nothing in this case points to it: this is your own choice."
    named = listing(f"{one.title} {percent(one.probability)}" for one in repair.causes[:NAMED])
    return f"Likely at fault ({named})." if repair.probability >= 0.5 else f"Possibly at fault ({named})."


def _retests(repair: RepairView) -> str:
    return listing(f"{name} ({minutes(spent)})" for name, spent in repair.retests)


# --- the choices -------------------------------------------------------------------------------


def _choices(shown: StepPrompt, page: Page, question: Text | None = None) -> Iterator[RenderableType]:
    own, others = own_choices(shown), [choice for choice in shown.choices if choice.kind not in OWN]
    yield question or text(question_words(shown), "bold")
    yield choice_rows(own, 1, page)
    if others:
        yield Text("Or something else first:")
        yield choice_rows(others, 1 + len(own), page)
    if shown.only:
        yield text(f"{title(shown.only).plain}, until you type by anyone.", "dim")
    if shown.left_out:
        yield text(f"Left out today, until you type available: {_few(shown.left_out)}.", "dim")
    if shown.unseen:
        yield text("The symptom could not be seen again: the report stands, and no figure was changed by that.", "dim")


def _few(words: tuple[str, ...]) -> str:
    rest = len(words) - NAMED
    return "; ".join(words[:NAMED]) + (f"; and {rest} more" if rest > 0 else "")


def own_choices(shown: StepPrompt) -> list[Choice]:
    """The choices that belong to the step on view."""
    return [choice for choice in shown.choices if choice.kind in OWN]


def question_words(shown: StepPrompt) -> str:
    """The question that the numbered choices answer."""
    if shown.phase is Phase.CAUTIONS:
        return "Before you start, read the cautions above."
    if isinstance(shown.step, CheckView):
        return shown.step.ask or f"What does it show: {shown.step.title}?"
    return "When that is done and the operational check repeated: is the symptom gone?"


def _named_question(shown: StepPrompt) -> Text:
    """The question behind what it belongs to, for where the head of the screen may have scrolled away."""
    if shown.phase is Phase.CAUTIONS:
        return text(question_words(shown), "bold")
    lead = "Put right: " if isinstance(shown.step, RepairView) else ""
    named = title(f"{lead}{shown.step.title}.", "bold")
    return joined([named, text(question_words(shown), "bold")], " ")


def reminder(shown: StepPrompt) -> RenderableType:
    """The question and its choices in short, for after something else was shown."""
    own = enumerate(own_choices(shown), 1)
    return Group(_named_question(shown), indented(joined(f"{n} {choice.text}" for n, choice in own)))
