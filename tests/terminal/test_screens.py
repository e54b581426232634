"""Every screen at two widths: nothing clipped, nothing wider than the page, and always what to type."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from faultree.terminal.look import Page
from faultree.terminal.screens import ASKS, draw, draw_help, draw_said, remind, typing
from faultree.walk import events as ev
from faultree.walk.machine import start, step
from faultree.walk.prompt import EndPrompt, Prompt, Together
from faultree.walk.state import Explained, Refused, Told, Walk
from faultree.walk.table import Phase
from faultree.walk.view import prompt
from tests.terminal.drawn import as_shown, cells
from tests.walk.small import DARK, asked, small, walked

CLASH = (*asked("voltage", "yes"), *asked("bench", "yes"))

WALKS: dict[str, Walk] = {
    "report": start(small()),
    "notice": step(start(small()), ev.Begin((DARK, "button-lamp"))).walk,
    "check": walked(),
    "cautions": walked(ev.TakeUp("voltage")),
    "answered": walked(*asked("click", "silence")),
    "replacement": walked(ev.Replace("lamp")),
    "retest": walked(ev.Replace("lamp"), ev.Acknowledge()),
    "list": walked(ev.ShowAll()),
    "conflict": walked(*CLASH),
    "stands out": walked(*asked("supply-seen", "no")),
    "wished": walked(*asked("voltage", "no"), ev.Note("plug loose"), ev.Finish()),
    "restored": walked(ev.Replace("fuse"), ev.Acknowledge(), ev.Retest(gone=True)),
    "unexplained": walked(*CLASH, ev.Finish()),
    "closed": walked(ev.Quit()),
}
"""A walk in every phase, and every kind of ending."""

PROPOSING = [name for name, walk in WALKS.items() if walk.phase not in (Phase.REPORT, Phase.NOTICE, Phase.CLOSED)]


def _drawn(shown: Prompt, width: int, plain: bool) -> str:
    return as_shown(draw(shown, Page(width, plain)), width=width, plain=plain)


def test_every_phase_is_among_the_screens() -> None:
    """What is not drawn here is not tested."""
    assert {walk.phase for walk in WALKS.values()} == set(Phase)


@pytest.mark.parametrize("plain", [True, False])
@pytest.mark.parametrize("width", [80, 120])
@pytest.mark.parametrize("name", WALKS)
def test_a_screen_fits_its_page(name: str, width: int, plain: bool) -> None:
    """No line is wider than the page, nothing is cut off, and plain screens hold plain signs only."""
    drawn = _drawn(prompt(WALKS[name]), width, plain)
    assert all(cells(line) <= width for line in drawn.splitlines())
    assert "…" not in drawn
    if plain:
        assert not set(drawn) & set("█▉▊▋▌▍▎▏▲▼─")


@pytest.mark.parametrize("width", [80, 120])
@pytest.mark.parametrize("name", WALKS)
def test_every_choice_of_a_prompt_is_on_its_screen_with_its_number(name: str, width: int) -> None:
    """Whoever reads the screen knows all that can be chosen."""
    shown = prompt(WALKS[name])
    drawn = _drawn(shown, width, plain=True)
    flat = " ".join(drawn.split())
    for number, choice in enumerate(shown.choices, 1):
        assert re.search(rf"^ +{number} \S", drawn, re.MULTILINE), number
        assert choice.text[1:] in flat


@pytest.mark.parametrize("name", PROPOSING)
def test_every_screen_that_proposes_an_action_says_who_decides(name: str) -> None:
    """The approved manual and a licensed engineer have the last word."""
    assert "manual and a licensed engineer decide" in " ".join(_drawn(prompt(WALKS[name]), 80, plain=True).split())


@pytest.mark.parametrize("name", ["cautions", "replacement", "stands out"])
def test_cautions_stand_before_the_step_that_needs_them(name: str) -> None:
    """Above the choice that leads to the step, in capitals and in full."""
    drawn = _drawn(prompt(WALKS[name]), 80, plain=True)
    first = re.search(r"^ +1 \S", drawn, re.MULTILINE)
    assert first is not None
    assert drawn.index("WARNING The terminals are live.") < first.start()


@pytest.mark.parametrize("name", [name for name in WALKS if name != "closed"])
def test_every_screen_ends_with_what_can_be_typed(name: str) -> None:
    """And the question before the cursor has its own words in every phase."""
    shown = prompt(WALKS[name])
    assert " ".join(typing(shown).split()) in " ".join(_drawn(shown, 80, plain=True).split())[-200:]
    assert ASKS[shown.phase]


def test_a_contradiction_reads_as_one_question() -> None:
    """Which answers, in which order, and what to do if all of them are right."""
    flat = " ".join(_drawn(prompt(WALKS["conflict"]), 80, plain=True).split())
    assert "These answers cannot all be true" in flat
    assert "1 Measure the voltage at the lamp: Is there voltage at the lamp? Yes" in flat
    assert "2 Test the relay on the bench: It does not close (your last answer)" in flat
    assert "type finish" in flat


@pytest.mark.parametrize("name", [name for name in WALKS if name != "closed"])
def test_help_and_reminder_name_only_what_is_possible(name: str) -> None:
    """The help of a screen lists its commands; the reminder repeats its question."""
    shown = prompt(WALKS[name])
    text = as_shown(draw_help(shown), remind(shown))
    assert ("undo" in text) == (ev.Undo in _possible(shown.phase))
    assert "quit" in text


def _possible(phase: Phase) -> set[type[ev.Event]]:
    from faultree.walk.table import TRANSITIONS

    return set(TRANSITIONS[phase])


def test_remarks_are_drawn_as_text() -> None:
    """A remark can hold anything that an author or a user wrote."""
    remarks = (Refused("No [b]."), Told("Noted: [/]"), Explained("a [x]", ("b [/y]",)))
    text = as_shown(*(draw_said(remark) for remark in remarks))
    assert text == "No [b].\nNoted: [/]\nA [x]\n  - b [/y]\n"


def test_an_ending_claims_no_more_than_its_figures() -> None:
    """One item, a few items, faults together: the headline is that of what is likely, not of the rule that ended it."""
    shown = prompt(WALKS["stands out"])
    assert isinstance(shown, EndPrompt)
    first = shown.likely[0]
    second = replace(first, unit="other", title="other lamp")
    assert "One item stands out" in _drawn(shown, 80, plain=True)
    assert "A few items stand out" in _drawn(replace(shown, likely=(first, second)), 80, plain=True)
    pair = (Together(("one", "two"), 0.4),)
    doubtful = _drawn(replace(shown, likely=(first, second), together=pair), 80, plain=True)
    assert "More than one fault is likely" in doubtful
    assert "and other lamp" in doubtful
    sure = replace(shown, together=(Together(("one", "two"), 0.6),))
    assert "Faults that act together stand out" in _drawn(sure, 80, plain=True)


@pytest.mark.parametrize("name", WALKS)
def test_a_spoken_screen_has_no_lines_bars_or_columns(name: str) -> None:
    """Read aloud, a title is not interrupted by a figure, and no row of signs is spelled out."""
    drawn = as_shown(draw(prompt(WALKS[name]), Page(200, True, spoken=True)), width=120)
    assert not re.search(r"--|##|[^\x00-\x7f“”’–]", drawn)
    for line in drawn.splitlines():
        head = re.match(r" *(\d+|[A-Z]+|[A-Z][a-z]+) +", line)  # a number, a level or a label may stand before
        assert "   " not in line[head.end() if head else 0 :].strip()


def test_a_spoken_suspect_is_one_sentence() -> None:
    """Letter, title, figure, and where it came from."""
    drawn = as_shown(draw(prompt(walked(*asked("click", "silence"))), Page(120, True, spoken=True)), width=120)
    assert re.search(r"^A: Signal \w+ [\w ]+, \d+ %, up from \d+ %$", drawn, re.MULTILINE)
    listed = as_shown(draw(prompt(WALKS["list"]), Page(120, True, spoken=True)), width=120)
    assert re.search(r"^2: .*, takes \d+ min, \d\.\d\d bits$", listed, re.MULTILINE)
