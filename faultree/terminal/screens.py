"""Every prompt of a walk as a screen, and the remarks between them."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from rich.console import Group, RenderableType
from rich.text import Text

from faultree.base.words import listing, minutes, percent
from faultree.terminal.look import Page, text, title
from faultree.terminal.parts import TAKES, caution_rows, choice_rows, choice_table, heading, indented, pair_words, rows
from faultree.terminal.step_screen import draw_step, reminder
from faultree.terminal.typed import COMMANDS, possible
from faultree.walk import titles
from faultree.walk.prompt import (
    NOTICE,
    SHORT_NOTICE,
    ClosedPrompt,
    ConflictPrompt,
    EndPrompt,
    ListPrompt,
    NoticePrompt,
    Prompt,
    ReportPrompt,
    StepPrompt,
)
from faultree.walk.state import Explained, Reason, Refused, Said
from faultree.walk.table import Phase

REASONS = {
    Reason.STANDS_OUT: "One item stands out",
    Reason.NOTHING_LEFT: "No check that is left can tell more apart",
    Reason.WISHED: "You ended it here",
    Reason.RESTORED: "The symptom is gone",
    Reason.CHART_ENDS: "The chart ends here",
    Reason.UNEXPLAINED: "The answers contradict each other",
}

ASKS = {
    Phase.REPORT: "What was reported?",
    Phase.NOTICE: "Type ok",
    Phase.CAUTIONS: "Type ok when read",
    Phase.CHECK: "Your answer",
    Phase.REPAIR: "Is it gone?",
    Phase.LIST: "Your choice",
    Phase.CONFLICT: "Look again at number",
    Phase.OVER: "What next?",
}
"""What stands before the place to type, in each phase."""

HINTED = (
    "undo", "why", "can't duplicate", "history", "all", "back", "carry on", "not today", "closed", "note", "save",
    "finish", "help", "quit",
)  # fmt: skip
"""The words that are named below every screen; the help names the others too."""


def draw(shown: Prompt, page: Page, *, brief: bool = False, last: bool = False) -> RenderableType:
    """The screen of any prompt, with what can be typed below it.

    `brief` leaves out what stands right above; `last` leaves out the choices, as nobody can choose any more.
    """
    match shown:
        case StepPrompt():
            part = draw_step(shown, page, brief=brief)
        case ReportPrompt():
            part = Group(*_report(shown, page))
        case NoticePrompt():
            part = Group(*_notice(shown, page))
        case ListPrompt():
            part = Group(*_list(shown, page))
        case ConflictPrompt():
            part = Group(*_conflict(shown, page))
        case EndPrompt():
            part = Group(*_end(shown, page, last))
        case ClosedPrompt():
            return Text("Goodbye.")
    return part if last else Group(part, *_foot(shown))


def _foot(shown: Prompt) -> Iterator[RenderableType]:
    if shown.phase not in (Phase.REPORT, Phase.NOTICE) and shown.choices:
        yield Text(SHORT_NOTICE, "yellow")
    yield Text(typing(shown), "dim")


def typing(shown: Prompt) -> str:
    """One line that says what can be typed."""
    if shown.phase is Phase.REPORT:
        return "Type a number (several with commas), or words of the report; or help, quit."
    kinds = {choice.kind for choice in shown.choices}
    idle = set(_idle_words(shown))
    words = [word for word in HINTED if word not in idle and word in {one.word for one in possible(shown.phase)}]
    return f"Type a {'number, or' if kinds else 'word'}: {', '.join(words)}."


def _idle_words(shown: Prompt) -> Iterator[str]:
    """Words that are possible, but would do nothing on this screen, or that only the help needs to name."""
    kinds = {choice.kind for choice in shown.choices}
    if not kinds:
        yield from ("why", "all")
    if "carry on" not in kinds:
        yield "carry on"
    if not isinstance(shown, StepPrompt):
        yield "not today"
    if not isinstance(shown, NoticePrompt):
        yield "can't duplicate"
    if isinstance(shown, EndPrompt):
        yield "finish"
    else:
        yield "history"
    if not (isinstance(shown, EndPrompt) and shown.left_open):
        yield "closed"


# --- the beginning -----------------------------------------------------------------------------


def _report(shown: ReportPrompt, page: Page) -> Iterator[RenderableType]:
    yield heading("What was reported?", page)
    number = 1
    for system in shown.systems:
        yield Text.assemble(text(system.title, "bold"), text(f"  {system.chapter}", "dim"))
        yield choice_rows(system.choices, number, page)
        number += len(system.choices)


def _notice(shown: NoticePrompt, page: Page) -> Iterator[RenderableType]:
    yield ""
    yield heading("Before you begin", page)
    yield Text(NOTICE, "yellow")
    for system, authority in shown.authorities:
        yield text(f"{system}: {authority}")
    yield ""
    yield Text("Reported", "bold")
    for one in shown.reported:
        yield indented(title(one.title, "bold"))
        facts = (("When", one.situation), ("Manual", one.manual), ("Note", one.note))
        yield rows(((Text(label, "dim"), text(words)) for label, words in facts if words), first=7, indent=4)
    if shown.steps:
        yield Text("Done so far", "bold")
        yield from (indented(title(titles.said(name, outcome))) for name, outcome in shown.steps)
    if shown.remarks:
        yield Text("Notes", "bold")
        yield from (indented(text(remark)) for remark in shown.remarks)
    if shown.records:
        yield Text("Besides", "bold")
        yield from (rows([("-", text(one))], first=1) for one in shown.records)
    if shown.changes:
        yield Text("Since it was saved", "bold")
        yield from (rows([("-", text(one))], first=1) for one in shown.changes)
    if shown.scale:
        yield text(shown.scale, "dim")
    yield ""
    yield choice_rows(shown.choices, 1, page)


# --- lists and contradictions ------------------------------------------------------------------


def _list(shown: ListPrompt, page: Page) -> Iterator[RenderableType]:
    yield ""
    yield heading("Everything that can be done", page)
    checks = [one for one in shown.choices if one.kind == "check"]
    units = [one for one in shown.choices if one.kind == "replace"]
    yield choice_rows(shown.choices[:1], 1, page)
    if checks:
        yield choice_table(checks, 2, ("Checks, those that tell most first", "takes", "bits"), page)
    if shown.silent:
        yield indented(
            Text(f"and {shown.silent} that would tell nothing about this case (check X takes one up)", "dim")
        )
    if shown.only:
        yield indented(text(f"{title(shown.only).plain}, until you type by anyone.", "dim"))
    if units:
        yield choice_table(
            units, 2 + len(checks), ("What could be put right, likeliest first", "takes", "likely"), page
        )
    if shown.unlikely:
        yield indented(Text(f"and {shown.unlikely} less likely", "dim"))
    if checks or units:
        yield indented(Text(TAKES, "dim"))
    absent = [one for one in shown.choices if one.kind == "available"]
    if absent:
        yield Text("Left out today; the number takes it back", "bold")
        yield choice_rows(absent, 2 + len(checks) + len(units), page)


def _conflict(shown: ConflictPrompt, page: Page) -> Iterator[RenderableType]:
    yield ""
    yield heading("These answers cannot all be true", page)
    name, outcome = shown.newest
    asked = name if name.endswith("?") else f"{name}:"
    yield Text.assemble("Your last answer: ", text(f"{asked} "), text(outcome, "bold"))
    if shown.alone:
        yield Text("No fault in the tree fits both this answer and the report.")
    else:
        yield Text("No fault in the tree fits all of these. The one most likely to be wrong stands first.")
    yield Text("Which do you want to look at again? Nothing is lost: the others are kept.", "bold")
    yield choice_rows(shown.choices, 1, page)
    yield Text(
        "If every one of them is right, the tree does not know this fault: type finish, and hand over. "
        "Undo takes your last answer back.",
        "dim",
    )


# --- the end -----------------------------------------------------------------------------------


def _end(shown: EndPrompt, page: Page, last: bool) -> Iterator[RenderableType]:
    yield ""
    yield heading(f"The end: {_headline(shown)}", page, _spent(shown))
    if shown.maybe_gone:
        yield text(shown.maybe_gone, "bold")
    if shown.likely or shown.others:
        yield title(_verdict(shown), "bold")
        yield ""
    if shown.waits:
        yield Text("Checks that would tell more wait for what is not available: see the hand-over.")
    if shown.others_tell:
        yield Text("Checks by others would tell more: type by anyone to have them proposed.")
    yield Text("To hand over", "bold")
    yield from _handover(shown.handover)
    if shown.choices and not last:
        yield ""
        yield Text("What next?", "bold")
        if shown.cautions:
            yield caution_rows(shown.cautions)
        yield choice_rows(shown.choices, 1, page)


def _spent(shown: EndPrompt) -> str:
    spent = f"{minutes(shown.minutes)} spent"
    return f"{shown.charted}; {spent}" if shown.charted else spent


def _headline(shown: EndPrompt) -> str:
    if shown.reason is Reason.STANDS_OUT and shown.together:
        return "Faults that act together stand out" if _settled(shown) else "More than one fault is likely"
    if shown.reason is Reason.STANDS_OUT and len(shown.likely) > 1:
        return "A few items stand out"
    if shown.others_tell and shown.reason is Reason.NOTHING_LEFT:
        return f"No check by {shown.others_tell} tells more apart"
    if shown.waits:
        return "No check that can be made today tells more apart"
    return REASONS[shown.reason]


def _settled(shown: EndPrompt) -> bool:
    """True where one set of faults that act together is likelier than all else."""
    return bool(shown.together) and shown.together[0].probability >= 0.5


def _verdict(shown: EndPrompt) -> str:
    """The likely units in a sentence, or the faults that explain the case only together."""
    if _settled(shown):
        return pair_words(shown.together[0]) + "."
    if not shown.likely:
        return f"No suspect is likely: none is above {percent(shown.others[0].probability)}."
    named = listing(
        (f"{one.title} ({percent(one.probability)})" for one in shown.likely), "and" if shown.together else "or"
    )
    return f"Likely at fault: {named}."


def _handover(lines: tuple[str, ...]) -> Iterator[RenderableType]:
    for line in lines:
        if line.startswith("- "):
            yield rows([("-", title(line[2:]))], first=1)
        else:
            yield text(line)


# --- remarks -----------------------------------------------------------------------------------


def draw_said(said: Said) -> RenderableType:
    """A remark between two screens."""
    if isinstance(said, Refused):
        return text(said.text, "yellow")
    if isinstance(said, Explained):
        sentences = (rows([("-", text(sentence))], first=1) for sentence in said.sentences)
        return Group(title(said.title, "bold"), *sentences)
    return text(said.text)


def remind(shown: Prompt) -> RenderableType:
    """One or two lines that say again what is asked, after something else was shown."""
    if isinstance(shown, StepPrompt):
        return Group(reminder(shown), Text(typing(shown), "dim"))
    return Text(typing(shown), "dim")


def draw_help(shown: Prompt, without: Collection[str] = ()) -> RenderableType:
    """What can be typed here, `without` some words that would be refused, and how to read the screen."""
    allowed = [one for one in possible(shown.phase) if one.word not in without]
    spelled = ((Text(f"{one.word} {one.takes}".strip(), "bold"), Text(one.does)) for one in COMMANDS if one in allowed)
    return Group(
        Text("You can type the number of a choice, an answer in words, or:", "bold"),
        rows(spelled, first=max(len(f"{one.word} {one.takes}".strip()) for one in COMMANDS)),
        Text(
            "The first letters of a word are enough where they are clear. The percentage of a suspect says how "
            "likely it is, given all answers; they add up to more than 100 % where several faults may be present."
        ),
    )
