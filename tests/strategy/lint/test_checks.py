"""Checks that tell nothing, and causes of which none tells, are found with the reason."""

from __future__ import annotations

import pytest

from faultree.belief.engine import Limits
from faultree.strategy.lint import checks
from faultree.strategy.lint.study import Study
from tests.strategy.lint.enumerated import Enumerated, library
from tests.strategy.lint.small import after, found, pump

OTHER = "; read another node, or choose another situation"
OPEN = "; let it read a node of which a symptom leaves open how it is, or remove it"
LOWER = "; lower its 'error', 'false_yes' or 'false_no'"
ADD = "; add a check whose answer differs between them"


def quiet_ones(study: Study) -> set[str]:
    """Checks whose errors leave nothing to tell, so that enumeration of right answers says nothing of them."""
    return {one.entry.id for one in checks.silent_check(study) if "its errors" in one.message}


@pytest.mark.parametrize("seed", range(60))
def test_checks_and_causes_are_found_exactly_where_enumeration_finds_them(seed: int) -> None:
    brute = Enumerated(library(seed))
    study = Study(brute.library)
    silent = {name for name in brute.library.checks if not brute.tells(name)}
    assert {one.entry.id for one in checks.silent_check(study)} == silent | quiet_ones(study)
    untold = set()
    for cause in brute.library.causes:
        rivals = brute.rivals(cause)
        told = any(brute.apart(check, cause, other, s) for check in brute.library.checks for s, other in rivals)
        if rivals and not told:
            untold.add(cause)
    assert {one.entry.id for one in checks.unrevealed(study)} == untold


def test_sound_checks_are_no_finding() -> None:
    assert found("silent-check", pump()) == []
    assert found("unrevealed", pump()) == []


def test_a_check_whose_answer_is_always_the_same() -> None:
    """At rest the pump turns in no case; `on` is a fact, and no fault touches it."""
    rest = ("listen to the pump, situation: running", "listen to the pump")
    assert found("silent-check", pump(rest)) == [
        f"the right answer of check 'listen' is 'no' whatever is wrong, with all as usual{OTHER}"
    ]
    fact = ("situation: running, reads: turns", "situation: running, reads: on")
    assert found("silent-check", pump(fact)) == [
        f"the right answer of check 'listen' is 'yes' whatever is wrong, in situation 'running'{OTHER}"
    ]


def test_a_check_that_repeats_the_report() -> None:
    """Whoever reports that nothing is shown has answered it."""
    again = after("checks", "dial: {title: look at the dial, situation: running, reads: shown, manual: PM 4}")
    assert found("silent-check", pump(again)) == [f"check 'dial' tells nothing for any symptom{OPEN}"]


def test_a_check_that_sees_only_what_explains_nothing() -> None:
    """It finds a fault, and no symptom comes from that."""
    changes = [
        after("causes", "rust: {title: rust, probability: 0.1, manual: PM 1}"),
        after("checks", "colour: {title: look at the colour, reads: rust, manual: PM 4}"),
    ]
    assert found("silent-check", pump(*changes)) == [f"check 'colour' tells nothing for any symptom{OPEN}"]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("reads: leak", "reads: leak, false_yes: 0.5, false_no: 0.5"),
        ("reads: leak", "reads: leak, false_yes: 0.3, false_no: 0.7"),
        ("    answers:\n      full", "    error: 0.5\n    answers:\n      full"),
    ],
)
def test_errors_can_drown_a_check(old: str, new: str) -> None:
    """Every answer is as likely whatever is right."""
    name = "floor" if "reads" in old else "outlet"
    assert found("silent-check", pump((old, new))) == [
        f"check '{name}' tells nothing: its errors make every answer as likely as if another were right{LOWER}"
    ]
    assert found("silent-check", pump((old, new.replace("0.5", "0.4").replace("0.7", "0.6")))) == []


def test_a_check_that_can_only_answer_the_wrong_way_still_tells() -> None:
    """Always wrong is as good as always right."""
    assert found("silent-check", pump(("reads: leak", "reads: leak, false_yes: 0.9, false_no: 0.9"))) == []


BUZZ = [
    after("causes", "coil: {title: coil loose, probability: 0.1}", "core: {title: core rusty, probability: 0.1}"),
    after("symptoms", "buzz: {title: a buzz, event: buzzing}", "rusty: {title: rust is seen, event: core}"),
    ("\ncautions:\n", "\nevents:\n  buzzing: {title: a buzz, any: [coil, core]}\ncautions:\n"),
]


def test_a_cause_that_no_check_tells_from_its_rivals() -> None:
    """Though another symptom would: the walk on this one could not get further."""
    assert found("unrevealed", pump(*BUZZ)) == [
        f"no check tells cause 'coil' from 'core', which explains symptom 'buzz' as well{ADD}",
        f"no check tells cause 'core' from 'coil', which explains symptom 'buzz' as well{ADD}",
    ]


def test_a_cause_that_is_told_by_elimination_is_told() -> None:
    """The coil has no check of its own, and that of the core leaves only the coil."""
    seen = after("checks", "look: {title: look at the core, reads: core, manual: PM 4}")
    assert found("unrevealed", pump(*BUZZ, seen)) == []


def test_a_cause_that_the_symptom_itself_gives_away_needs_no_check() -> None:
    alone = [
        after("causes", "rust: {title: rust, probability: 0.1, manual: PM 1}"),
        after("symptoms", "brown: {title: the water is brown, sees: {rust: yes}}"),
    ]
    assert found("unrevealed", pump(*alone)) == []


def test_what_cannot_be_decided_is_said() -> None:
    again = after("checks", "dial: {title: look at the dial, situation: running, reads: shown, manual: PM 4}")
    wide = "the logic is too wide: part it into narrower signals"
    assert found("silent-check", pump(again), Limits(cells=1)) == [
        f"cannot be decided: whether check 'dial' can tell anything; {wide}"
    ]
    together = ("any: [coil, core]", "all: [{any: [coil, core]}, {any: [seized, leak]}]")
    coupled = [BUZZ[0], BUZZ[1], (BUZZ[2][0], BUZZ[2][1].replace(*together))]
    assert found("unrevealed", pump(*coupled), Limits(cells=1)) == [
        f"cannot be decided: whether a check tells cause '{name}' from others; {wide}" for name in ("coil", "core")
    ]
