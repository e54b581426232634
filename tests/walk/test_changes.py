"""A saved case that is opened after the tree changed says what changed, and loses nothing."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from faultree.base.errors import CaseError
from faultree.belief.evidence import Repair, Reply
from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.terminal import files
from faultree.walk import changes, saved
from faultree.walk import events as ev
from faultree.walk.machine import start, step
from faultree.walk.prompt import NoticePrompt
from faultree.walk.state import Walk
from faultree.walk.table import Phase
from faultree.walk.view import prompt
from tests.walk.small import SIGNAL, asked, small, walked

WORK = (
    *asked("click", "silence"),
    *asked("supply-seen", "yes"),
    ev.Replace("fuse"),
    ev.Acknowledge(),
    ev.Retest(gone=False),
    ev.Note("seal worn"),
    ev.NotToday("tool", "multimeter"),
    ev.CannotDuplicate(),
)


def _edited(*pairs: tuple[str, str]) -> Library:
    text = SIGNAL
    for before, after in pairs:
        assert before in text, before
        text = text.replace(before, after)
    return load_texts({"signal.yaml": text})


def _data() -> dict[str, object]:
    """A case as it comes out of its file."""
    return saved.pack(walked(*WORK))


def _taken_up(library: Library, data: Mapping[str, object]) -> Walk:
    turn = step(start(library), ev.Resume(data))
    assert turn.walk.phase is Phase.NOTICE, turn.said
    return turn.walk


def _told(library: Library, data: Mapping[str, object]) -> str:
    return "\n".join(_taken_up(library, data).changes)


def test_a_tree_that_has_not_changed_has_nothing_to_tell() -> None:
    """Neither on the screen nor in the state."""
    walk = _taken_up(small(), _data())
    assert walk.changes == ()
    assert walk.open_case == walked(*WORK).open_case


def test_a_change_of_words_and_times_elsewhere_leaves_the_case_as_it_was() -> None:
    """And says just that."""
    walk = _taken_up(_edited(("minutes: 45", "minutes: 50")), _data())
    assert walk.changes == (changes.NOTHING,)
    assert walk.open_case.steps == walked(*WORK).open_case.steps


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (("title: listen to the relay", "title: listen at the relay"),
         "The check “listen to the relay” is now called “listen at the relay”."),
        (("{text: Nothing, when", "{text: Not a sound, when"),
         "The answer “Nothing” of “listen to the relay” now reads “Not a sound”"),
        (("error: 0.05", "error: 0.1"), "What “listen to the relay” looks at, or how sure it is, has changed"),
        (("probability: 0.01}", "probability: 0.02}"),
         "The likelihood of “signal relay stuck open” was changed from 0.01 to 0.02 (suspected "),
        (("title: the signal lamp stays dark", "title: no light"),
         "The report “the signal lamp stays dark” is now called “no light”."),
        (("lost_if: [relay-open, wire-broken]", "lost_if: [relay-open, wire-broken, relay-closed]"),
         "Logic, checks or likelihoods were changed in “Landing signal”."),
    ],
)  # fmt: skip
def test_what_changed_is_said(edit: tuple[str, str], words: str) -> None:
    """And that every step still fits, where it does."""
    told = _told(_edited(edit), _data())
    assert words in told
    assert "Every step of the case still fits." in told


def test_the_notice_shows_it_to_whoever_takes_the_case_up() -> None:
    """Before anything else is done, with what was missing and what could not be seen again."""
    shown = prompt(_taken_up(_edited(("title: listen to the relay", "title: listen at the relay")), _data()))
    assert isinstance(shown, NoticePrompt)
    assert shown.changes[0] == changes.CHANGED
    assert shown.records[0] == "Not available when it was saved: multimeter. Type available if it is there now."
    assert "could not be seen again" in shown.records[1]


# --- renamed and removed -----------------------------------------------------------------------


def test_a_check_with_a_new_id_is_found_by_its_title() -> None:
    """And an answer with a new id by its wording; both are told."""
    walk = _taken_up(_edited(("  click:\n", "  clicking:\n"), ("silence: {text", "quiet: {text")), _data())
    assert walk.open_case.steps[0] == Reply("signal/clicking", "quiet")
    told = "\n".join(walk.changes)
    assert "The check “listen to the relay” has a new id: signal/clicking." in told
    assert "The answer “Nothing” of “listen to the relay” has a new id: quiet." in told


def test_an_item_with_a_new_id_is_found_by_its_title() -> None:
    """A replacement is a step like any other."""
    walk = _taken_up(_edited(("  fuse: {title", "  the-fuse: {title"), ("item: fuse", "item: the-fuse")), _data())
    assert Repair("signal/the-fuse", gone=False) in walk.open_case.steps
    assert walk.unfit == ()


def test_a_report_with_a_new_id_is_found_by_its_title() -> None:
    """Otherwise the whole case would be lost for a tidier name."""
    library = _edited(("  dark:\n", "  stays-dark:\n"), ("symptom: dark", "symptom: stays-dark"))
    assert _taken_up(library, _data()).open_case.symptoms == ("signal/stays-dark",)


REMOVED = (
    ("  click:\n    title: listen to the relay", "  hear:\n    title: listen to a relay"),
    ("What do you hear?", "What is heard?"),
)


def test_a_step_that_no_longer_fits_is_kept_and_counts_for_nothing() -> None:
    """It is shown with the reason, the others stand, and it goes back into the file as it was."""
    walk = _taken_up(_edited(*REMOVED), _data())
    assert [one[0] for one in walk.open_case.steps] == ["signal/supply-seen", "signal/fuse"]
    told = "\n".join(walk.changes)
    assert "2 of 3 steps still fit." in told
    step = "listen to the relay: What do you hear? Nothing"
    assert f"Kept, but it counts for nothing: {step} (the check is no longer in the tree)." in told
    again = saved.pack(walk)
    kept = again["walk"]
    assert isinstance(kept, dict)
    assert kept["unfit"][0]["data"] == _data()["steps"][0]  # type: ignore[index]
    assert kept["notes"] == [{"after": 3, "text": "seal worn"}]


def test_what_did_not_fit_is_tried_again_when_the_tree_changes_once_more() -> None:
    """The edit is taken back: the step stands where it stood, and that is told."""
    there = saved.pack(_taken_up(_edited(*REMOVED), _data()))
    back = _taken_up(small(), there)
    assert back.open_case.steps == walked(*WORK).open_case.steps
    assert back.unfit == ()
    assert "“listen to the relay” fits the tree again and counts again." in "\n".join(back.changes)


def test_what_did_not_fit_stays_though_the_tree_did_not_change_again() -> None:
    """Saved and opened any number of times, nothing typed is lost."""
    library = _edited(*REMOVED)
    once = saved.pack(_taken_up(library, _data()))
    twice = saved.pack(_taken_up(library, once))
    assert twice == once
    assert _taken_up(library, twice).unfit == _taken_up(library, _data()).unfit


def test_an_answer_that_contradicts_the_others_now_is_kept_aside() -> None:
    """The logic was edited: with the relay no part of the feed, its silence and the rest cannot all be true."""
    steps = (*asked("voltage", "no"), *asked("bench", "yes"))
    data = saved.pack(walked(*steps))
    library = _edited(("reads: relay-silent", "reads: feed"))
    walk = _taken_up(library, data)
    assert [one[0] for one in walk.open_case.steps] == ["signal/voltage"]
    assert "it contradicts the steps before it" in walk.unfit[0].because


def test_a_step_that_did_not_fit_gives_way_to_its_new_answer() -> None:
    """Answered anew, the check counts once; the old answer stays in the file and no longer counts."""
    walk = _taken_up(_edited(*REMOVED), _data())
    data = dict(saved.pack(walk))
    data["steps"] = [*data["steps"], {"check": "signal/click", "answer": "click"}]  # type: ignore[misc]
    data["library"] = "another"
    back = _taken_up(small(), data)
    assert Reply("signal/click", "click") in back.open_case.steps
    assert [one.because for one in back.unfit] == ["another step of the case says the same or has taken its place"]


def test_parts_beside_the_case_that_name_what_is_gone_are_kept_too() -> None:
    """What was missing, what was withdrawn, what was closed."""
    steps = (*asked("voltage", "yes"), *asked("bench", "yes"), ev.LookAgain("signal/voltage"), ev.CannotTell())
    events = (*steps, ev.NotToday("tool", "multimeter"), ev.NotToday("check", "signal/click"), ev.Finish(), ev.Closed())
    data = saved.pack(walked(*events))
    library = _edited(
        ("tools: [multimeter]", "tools: [probe]"),
        ("  voltage:\n    title: measure the voltage", "  volts:\n    title: measure voltage"),
        ("answers: {voltage: yes}", "answers: {volts: yes}"),
        ("access: [panel]", "access: [cover]"),
        ("  panel: {title: take the left panel off", "  cover: {title: take the cover off"),
    )
    walk = _taken_up(library, data)
    assert {one.part for one in walk.unfit} == {"steps", "withdrawn", "not_today", "undone", "opened"}
    assert [lack.name for lack in walk.lacks] == ["signal/click"]
    assert saved.pack(_taken_up(library, saved.pack(walk))) == saved.pack(walk)
    back = _taken_up(small(), saved.pack(walk))
    assert (back.lacks, back.withdrawn, back.undone) == (
        tuple(reversed(walked(*events).lacks)), walked(*events).withdrawn, walked(*events).undone
    )  # fmt: skip


def test_a_case_whose_every_report_is_gone_is_refused_and_its_file_stays() -> None:
    """There is nothing to walk; the words name the report."""
    library = _edited(("  dark:\n    title: the signal lamp stays dark", "  off:\n    title: it is off"),
                      ("symptom: dark", "symptom: off"))  # fmt: skip
    with pytest.raises(CaseError, match=r"the signal lamp stays dark.*nothing of it was changed"):
        saved.unpack(library, _data())


def test_one_of_two_reports_that_is_gone_is_kept_aside() -> None:
    """The other one carries the case."""
    walk = step(start(small()), ev.Begin(("dark", "button-lamp"))).walk
    library = _edited(("  button-lamp: {title: the signal stays dark in the dark", "  lamp-off: {title: it is off"))
    taken = _taken_up(library, saved.pack(walk))
    assert taken.open_case.symptoms == ("signal/dark",)
    assert "the signal stays dark in the dark (the report is no longer in the tree)" in "\n".join(taken.changes)
    assert _taken_up(small(), saved.pack(taken)).open_case.symptoms == ("signal/dark", "signal/button-lamp")


def test_an_older_file_without_words_says_that_it_cannot_tell() -> None:
    """Its steps are fitted by their ids alone."""
    data = walked(*WORK).open_case.to_dict()
    walk = _taken_up(_edited(("minutes: 45", "minutes: 50")), data)
    assert walk.changes == (changes.UNTOLD, "Every step of the case still fits.")


def test_a_file_can_be_read_by_a_colleague() -> None:
    """Each step with its title and what was found; the suspects with their probabilities."""
    text = files.dump(_data(), "case.yaml")
    assert "  title: listen to the relay\n  asked: What do you hear?\n  found: Nothing\n" in text
    assert "signal/dark: the signal lamp stays dark" in text
    assert "title: signal relay stuck open\n    likelihood: 0.01\n" in text
    clash = saved.pack(walked(*asked("voltage", "yes"), *asked("bench", "yes")))
    assert "suspects" not in clash["tree"]  # type: ignore[operator]
