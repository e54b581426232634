"""The end of a walk says what is likely, what is not excluded, and what whoever goes on must know."""

from __future__ import annotations

import pytest

from faultree.strategy.case import Case
from faultree.walk import events as ev
from faultree.walk import handover
from faultree.walk.prompt import NOTICE, EndPrompt
from faultree.walk.state import Reason
from faultree.walk.suspects import FAINT, ever_pointed_to
from faultree.walk.view import prompt
from tests.trees.demonstration import library
from tests.walk.small import asked, walked


def _end(*events: ev.Event) -> EndPrompt:
    shown = prompt(walked(*events))
    assert isinstance(shown, EndPrompt)
    return shown


def _under(lines: tuple[str, ...], heading: str) -> list[str]:
    """The entries below a heading."""
    start = lines.index(heading) + 1
    found = []
    for line in lines[start:]:
        if not line.startswith("- "):
            break
        found.append(line[2:])
    return found


WISHED = (*asked("voltage", "no"), ev.Note("plug loose"), ev.Finish())


def test_the_hand_over_tells_what_was_reported_done_opened_and_noted() -> None:
    """All that a colleague needs, without the program at hand."""
    lines = _end(*WISHED).handover
    assert _under(lines, "Reported:") == ["the signal lamp stays dark"]
    assert _under(lines, "Done:") == ["Step 1: measure the voltage at the lamp: Is there voltage at the lamp? No"]
    assert _under(lines, handover.OPENED) == ["undo what was done here: take the left panel off"]
    assert _under(lines, "Notes:") == ["plug loose"]
    assert "Time spent: 25 min" in lines
    assert "Approved data: SM 33, invented" in lines
    assert lines[-1] == NOTICE


def test_the_hand_over_tells_what_is_likely_and_what_is_not_excluded() -> None:
    """Likely units come with place and manual; nothing that is possible is left out without a count."""
    end = _end(*WISHED)
    likely = _under(end.handover, "Likely:")
    assert likely[0].startswith("signal relay, ")
    assert likely[0].endswith("bay shelf 2, SM 33-42")
    units = walked(*WISHED).open_case.units()
    assert len(end.likely) + len(end.others) + end.more == len(units)


def test_nothing_is_said_to_be_opened_that_was_not() -> None:
    """Without access there is nothing to close."""
    assert not [line for line in _end(ev.Finish()).handover if line.startswith("Access left open")]
    assert "Done: no check yet" in _end(ev.Finish()).handover


def test_an_ending_offers_replacement_with_its_cautions_and_the_way_back() -> None:
    """Cautions of what is proposed stand on the same screen."""
    end = _end(*asked("supply-seen", "no"))
    assert end.reason is Reason.STANDS_OUT
    assert [choice.kind for choice in end.choices] == ["replace", "carry on"]
    assert {one.id for one in end.cautions} == {"signal/live", "signal/dazzle"}


def test_restored_names_what_was_replaced_and_proposes_nothing() -> None:
    """The symptom is gone; no suspect is named any more."""
    end = _end(ev.Replace("fuse"), ev.Acknowledge(), ev.Retest(gone=True))
    assert end.choices == ()
    assert end.likely == ()
    assert "Restored by putting right: signal fuse" in end.handover


def test_an_unsettled_contradiction_is_handed_over_as_such() -> None:
    """With what each answer would mean, and without a ranking; one that was withdrawn is named as well."""
    clash = (*asked("voltage", "yes"), *asked("bench", "yes"))
    left = _end(*clash, ev.Finish())
    unsettled = _under(left.handover, "These answers cannot all be true, and that is not settled:")
    assert [one.partition(";")[0] for one in unsettled] == [
        "measure the voltage at the lamp: Is there voltage at the lamp? Yes",
        "test the relay on the bench: It does not close",
    ]
    assert "if this one is wrong, signal lamp broken is likeliest (100 %)" in unsettled[1]
    assert left.likely == ()
    assert not [line for line in left.handover if line.startswith("Likely:")]
    again = _end(*clash, ev.LookAgain("signal/voltage"), ev.AnswerCheck("no"), ev.Finish())
    heading = "Answered, then looked at again because it contradicted other answers:"
    assert _under(again.handover, heading) == ["measure the voltage at the lamp: Is there voltage at the lamp? Yes"]


def test_an_answer_that_contradicts_is_among_what_was_done() -> None:
    """It is not part of the case, and yet somebody made it, opened what it needed, and spent its minutes."""
    clash = (*asked("voltage", "yes"), *asked("bench", "yes"))
    end = _end(*clash, ev.Finish())
    assert _under(end.handover, "Done:")[-1] == (
        "Step 2: test the relay on the bench: It does not close (contradicts: see below)"
    )
    assert end.minutes == 10 + 15 + 45
    assert "Time spent: 70 min" in end.handover


def test_what_cleared_it_is_left_open_where_two_repairs_may_have() -> None:
    end = _end(
        *(ev.Replace("relay"), ev.Acknowledge(), ev.CannotTell()),
        *(ev.Replace("fuse"), ev.Acknowledge(), ev.Retest(gone=True)),
    )
    place = end.handover.index("Restored by putting right: signal fuse")
    assert end.handover[place + 1].startswith("It may have been signal relay as well")


def test_excluded_by_a_step_is_limited_where_the_symptom_comes_and_goes() -> None:
    said = "Excluded is what was not there during that step; a fault that comes and goes may have been away."
    steps = (*asked("voltage", "yes"), ev.Finish())
    assert said in _end(ev.CannotDuplicate(), *steps).handover
    assert said not in _end(*steps).handover


@pytest.mark.parametrize("probabilities", [(0.9, 0.05), (0.4, 0.3, 0.2, 0.1), (0.2,) * 9, ()])
def test_likely_units_are_at_least_half_as_likely_as_the_first(probabilities: tuple[float, ...]) -> None:
    """And there are no more than four of them; the rest keeps its order."""
    from faultree.strategy.case import Unit

    units = tuple(Unit(f"u{index}", p, ()) for index, p in enumerate(probabilities))
    likely, rest = handover.split(units)
    assert likely + rest == units
    assert len(likely) <= handover.LIKELY
    assert all(unit.probability >= units[0].probability / 2 for unit in likely)


def test_a_suspect_of_a_percent_is_never_called_likely() -> None:
    from faultree.strategy.case import Unit

    units = tuple(Unit(f"u{index}", p, ()) for index, p in enumerate((0.011, 0.009)))
    assert handover.split(units) == ((), units)


def test_only_what_the_case_ever_pointed_to_is_named_as_not_excluded() -> None:
    """A relay dropped out explains a dark bus; a pump that may be worn by coincidence is counted, not named."""
    case = Case.open(library(), ["electrical/dc-bus-1-off"]).answer("flaps/flap-needles-recalled", "both")
    _, rest = handover.split(case.units())
    named = handover.worth_naming(case, rest)
    pointed = ever_pointed_to(case)
    assert all(any(one.cause in pointed for one in unit.causes) for unit in named)
    assert "hydraulics/engine-pump-2" not in {unit.unit for unit in named}
    assert any(unit.probability >= FAINT and unit not in named for unit in rest)


def test_a_fault_left_behind_is_named_though_the_symptom_is_gone() -> None:
    """Where a report took two faults, one repair clears it; the other fault is still there, without a sign."""
    case = Case.open(library(), ["spoilers/rise-on-approach"]).repair("air-ground/ground-relay-1", gone=True)
    left = {unit.unit: unit.probability for unit in handover.still_suspected(case)}
    assert left["spoilers/raise-relay"] == pytest.approx(0.8, abs=0.05)
    assert "air-ground/ground-relay-1" not in left


def test_after_a_repair_of_the_only_fault_nothing_is_still_suspected() -> None:
    case = Case.open(library(), ["electrical/generator-1-off"]).repair("electrical/generator-control-1", gone=True)
    assert handover.still_suspected(case) == ()
