"""When a search is over, and what is proposed while it is not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.library.load import load_texts
from faultree.strategy.case import Case
from faultree.walk import events as ev
from faultree.walk import judge
from faultree.walk.state import CheckStep, Reason, RepairStep
from faultree.walk.table import Phase
from faultree.walk.today import ANY
from faultree.walk.view import prompt
from tests.trees.demonstration import library
from tests.walk.small import SIGNAL, asked, walked


def test_the_best_advice_is_proposed() -> None:
    """The walk does not rank: it proposes what the case's advice puts first."""
    walk = walked()
    assert judge.proposal(walk) == judge.step_of(walk.open_case.advice()[0])


def test_a_likely_item_ends_the_search_where_replacing_it_is_best() -> None:
    """At 0.9 an item stands out; the rule asks for the advice as well as for the probability."""
    walk = walked(*asked("supply-seen", "no"))
    lead = walk.open_case.units()[0]
    assert lead.unit == "signal/fuse"
    assert lead.probability >= judge.SURE
    assert walk.open_case.advice()[0].item == lead.unit
    assert judge.proposal(walk) is Reason.STANDS_OUT


def test_an_item_that_is_only_likely_does_not_end_it_while_a_check_is_worth_making() -> None:
    """Between 0.5 and 0.9 the search goes on as long as a check tells enough."""
    walk = walked(*asked("click", "silence"), *asked("supply-seen", "yes"), *asked("bench", "yes"))
    lead = walk.open_case.units()[0]
    telling = [worth for worth in walk.open_case.checks() if worth.bits >= judge.WORTH]
    assert lead.probability >= judge.LIKELY
    ended = judge.proposal(walk) is Reason.STANDS_OUT
    assert ended == (walk.open_case.advice()[0].item == lead.unit and (lead.probability >= judge.SURE or not telling))


def test_no_telling_check_ends_it() -> None:
    """Where every telling check is used up, nothing can tell more apart."""
    events = [
        one
        for check in ("voltage", "supply-seen", "click", "bench")
        for one in (ev.TakeUp(check), ev.Acknowledge(), ev.CannotTell())
    ]
    walk = walked(*events)
    assert max(worth.bits for worth in walk.open_case.checks()) < judge.TELLS
    assert judge.proposal(walk) is Reason.NOTHING_LEFT


def test_the_alternatives_leave_out_the_step_on_view_and_what_tells_nothing() -> None:
    """Beside the step on view stand other steps only, best first, and one replacement where checks are left."""
    walk = walked()
    found = judge.alternatives(walk.open_case, ANY, walk.pending, 3)
    assert len(found) == 3
    assert walk.pending not in [judge.step_of(one) for one in found]
    assert [one.expected_minutes for one in found] == sorted(one.expected_minutes for one in found)
    assert [one.action for one in found].count("replace") == 1
    assert "signal/weather" not in [one.check for one in judge.sensible(walk.open_case, ANY)]


@pytest.mark.parametrize(("action", "expected"), [("check", CheckStep), ("replace", RepairStep)])
def test_advice_becomes_a_step(action: str, expected: type) -> None:
    """A check and a replacement are the two kinds of steps."""
    one = next(one for one in walked().open_case.advice() if one.action == action)
    assert isinstance(judge.step_of(one), expected)


def test_a_check_tells_something_where_it_moves_a_suspect_that_the_evidence_points_to() -> None:
    """The weather moves nobody; the voltage moves everybody; the suspects pointed to are those made likelier."""
    case = walked().open_case
    worth = {one.check: one for one in case.checks()}
    assert [name for name, one in worth.items() if not judge.tells(case, one)] == ["signal/weather"]
    pointed = judge.pointed_to(case)
    assert set(pointed) == {"signal/lamp-broken", "signal/relay-open", "signal/fuse-blown", "signal/wire-broken"}
    priors = {one.cause: one.prior for one in case.ranking()}
    assert all(pointed[name] > priors[name] for name in pointed)


def test_what_may_be_broken_without_a_part_in_the_report_is_not_checked_for_its_own_sake() -> None:
    """A horn that often fails has bits to tell, but nothing to do with a dark lamp."""
    horn = """
items:
  horn: {title: horn}
"""
    text = SIGNAL.replace("\nitems:\n", horn).replace(
        "\ncauses:\n", "\ncauses:\n  horn-mute: {title: horn mute, item: horn, probability: 0.3}\n"
    )
    text = text.replace(
        "\nchecks:\n",
        "\nchecks:\n  horn-heard: {title: sound the horn, ask: Is it mute?, reads: horn-mute, minutes: 1}\n",
    )
    case = Case.open(load_texts({"signal.yaml": text}), ["dark"])
    horn_worth = next(one for one in case.checks() if one.check == "signal/horn-heard")
    assert horn_worth.bits > 0.5
    assert not judge.tells(case, horn_worth)
    shown = list(judge.sensible(case, ANY))
    assert "signal/horn-heard" not in [one.check for one in shown]
    assert "signal/horn" not in [one.item for one in shown]


def test_a_bad_item_without_a_part_in_the_report_does_not_end_the_search() -> None:
    """A lamp that a test shows to be burnt out is certain to be bad, but the pump does not run for another reason."""
    text = """
faultree: 1
title: Pump with a lamp
items:
  lamp: {title: lamp, minutes: 1}
  motor: {title: motor, minutes: 90}
  relay: {title: relay, minutes: 80}
causes:
  lamp-out: {title: lamp burnt out, item: lamp, probability: 0.01}
  motor-dead: {title: motor dead, item: motor, probability: 0.01}
  relay-open: {title: relay open, item: relay, probability: 0.01}
signals:
  runs: {title: pump running, lost_if: [motor-dead, relay-open]}
  lit: {title: lamp lit, follows: runs, lost_if: [lamp-out]}
  lamp-good: {title: lamp lit in its test, lost_if: [lamp-out]}
checks:
  lamp-test: {title: test the lamp, ask: Is it lit?, reads: lamp-good, minutes: 1}
symptoms:
  still: {title: the pump stands still and its lamp is dark, sees: {runs: no, lit: no}}
"""
    case = Case.open(load_texts({"pump.yaml": text}), ["still"]).answer("lamp-test", "no")
    lamp = next(unit for unit in case.units() if unit.unit == "pump/lamp")
    assert lamp.probability == pytest.approx(1.0)
    assert case.clears("lamp") == pytest.approx(0.0)
    assert judge.standing_out(case, ANY) == ()


def test_a_crew_is_asked_until_nothing_it_knows_tells_more() -> None:
    """With the crew alone no repair is proposed, offered beside a check, or listed; an item that stands out ends it."""
    walk = walked(by=("crew",))
    assert judge.proposal(walk) == CheckStep("signal/click")
    assert all(one.check for one in judge.alternatives(walk.open_case, walk.today, None, 9))
    over = walked(ev.AnswerCheck("silence"), by=("crew",))
    assert over.reason is Reason.NOTHING_LEFT
    shown = prompt(over)
    assert not [one for one in shown.choices if one.kind == "replace"]
    listed = prompt(replace(over, phase=Phase.LIST, reason=None))
    assert not [one for one in listed.choices if one.kind == "replace"]


def test_the_quick_check_that_tells_most_for_its_time_is_always_among_the_choices() -> None:
    """A lamp test of a minute that finds one fault in eight is offered beside checks that tell more and take longer."""
    case = Case.open(library(), ["leading-edge/green-light-stays-off"])
    shown = CheckStep("leading-edge/devices-out-page")
    offered = [one.check for one in judge.alternatives(case, ANY, shown, 3)]
    assert "leading-edge/device-lamp-test" in offered
    assert len(offered) == 3
