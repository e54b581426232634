"""Reasons: from a cause to the report step by step, or what excludes it; what a check separates and what it did."""

from __future__ import annotations

import pytest

from faultree.belief.evidence import Repair, Reply
from faultree.belief.posterior import Posterior
from faultree.belief.reasons import step_outcome, step_title, unit_title
from faultree.strategy.case import Case
from tests.belief.small import PUMP, library, pump, pump_frame

STILL = "“it does not move”"


@pytest.fixture
def case() -> Case:
    return Case.open(pump(), ["still"])


def in_order(sentences: tuple[str, ...], *words: str) -> bool:
    """Whether all these words come up, one after the other, each in a later sentence than the one before."""
    rest = iter(sentences)
    return all(any(word in sentence for sentence in rest) for word in words)


# ---- a cause that is possible


def test_the_chain_leads_from_the_cause_to_the_report(case: Case) -> None:
    """Each step is a sentence with the title of what is lost, the report last."""
    found = case.why("worn")
    assert in_order(found, "“pump worn”", "“pressure”", "“it moves”", STILL)
    assert len(found) == 4
    assert found[-1].endswith(f"{STILL}.")


def test_a_short_chain_holds_nothing_of_the_others(case: Case) -> None:
    found = case.why("valve")
    assert in_order(found, "“valve stuck”", "“it moves”", STILL)
    assert "pressure" not in " ".join(found)


def test_the_situation_is_named(case: Case) -> None:
    assert "“armed”" in case.why("worn")[0]
    assert "situation" not in Case.open(pump(), ["no-reading"]).why("worn")[0]


def test_every_report_has_its_chain() -> None:
    both = Case.open(pump(), ["still", "no-reading"]).why("worn")
    assert in_order(both, STILL, "“pump worn”", "“no pressure is shown”")


def test_a_cause_that_needs_company_is_told_with_it() -> None:
    """A reading without pressure takes a gauge that reads high and something that takes the pressure away."""
    found = Case.open(pump(), ["odd"])
    assert "“pump worn” together with “gauge reads high”" in found.why("worn")[0]
    assert "“gauge reads high” together with “pipe leaking”" in found.why("high")[0]


def test_what_is_forced_is_said_to_be_there_when_it_should_not() -> None:
    forced = " ".join(Case.open(pump(), ["odd"]).why("high"))
    assert "forces “pressure shown”" in forced


def test_an_answer_that_speaks_against_a_cause_is_named(case: Case) -> None:
    """The gauge shows pressure: that may be wrong, so it excludes nothing, but it counts."""
    found = case.answer("read", "yes").why("worn")
    assert in_order(found, STILL, "“read the gauge: Does it show pressure?” was answered “Yes”")
    assert "“read the gauge”" not in " ".join(case.answer("read", "yes").why("valve"))


# ---- a cause that is out


def test_the_answer_that_excludes_a_cause_is_named(case: Case) -> None:
    """With the answer that it would have led to; other answers have no part in it."""
    (only,) = case.answer("read", "no").answer("feel", "yes").why("worn")
    assert "“pump worn” is excluded" in only
    assert "“feel the pipe: Is there pressure?” was answered “Yes”" in only
    assert "“No”" in only
    assert "gauge" not in only


def test_a_cause_that_the_report_itself_excludes() -> None:
    (only,) = Case.open(pump(), ["odd"]).why("low")
    assert "“gauge reads low” is excluded by the report itself" in only


TWO = """
causes:
  a: {title: cause A, probability: 0.1}
  b: {title: cause B, probability: 0.1}
  c: {title: cause C, probability: 0.1}
events:
  top: {title: top, any: [{all: [a, b]}, c]}
  either: {title: a or b, any: [a, b]}
checks:
  look-b: {title: look at B, ask: Is it B?, reads: b}
  look-c: {title: look at C, ask: Is it C?, reads: c}
  look-either: {title: look at both, ask: Is it either?, reads: either}
symptoms:
  reported: {title: the report, event: top}
"""


def test_answers_that_exclude_only_together_are_all_named() -> None:
    """Without b, a can be there beside c; without c, beside b; without both it explains nothing."""
    found = Case.open(library(TWO), ["reported"]).answer("look-b", "no").answer("look-c", "yes")
    assert "excluded" not in " ".join(found.why("a"))
    text = TWO.replace("any: [{all: [a, b]}, c]", "any: [{all: [a, {any: [b, c]}]}, {none: [a, b, c]}]")
    other = Case.open(library(text), ["reported"]).answer("look-b", "no").answer("look-c", "no")
    (only,) = other.why("a")
    assert "“look at B: Is it B?” was answered “No”" in only
    assert "“look at C: Is it C?” was answered “No”" in only
    assert "2 answers together" in only


def test_a_repaired_unit_is_out(case: Case) -> None:
    (only,) = case.repair("pump").why("worn")
    assert "“pump worn” is out" in only
    assert "“pump” was put right" in only


def test_a_report_that_went_with_a_repair_excludes_the_others(case: Case) -> None:
    (only,) = case.repair("valve", gone=True).why("worn")
    assert "“pump worn” is excluded" in only
    assert "“valve stuck” was put right and the report was gone" in only


# ---- a cause that has no part


def test_a_cause_that_nothing_depends_on_keeps_its_likelihood(case: Case) -> None:
    (only,) = case.why("high")
    assert "“gauge reads high” has no part" in only


def test_a_cause_beside_one_that_explains_everything() -> None:
    """Known faults that do not lead to the report are not made out to."""
    found = Case.open(library(TWO), ["reported"]).answer("look-b", "no").why("a")
    assert "“cause A” has no part in “the report”" in found[0]
    assert "“cause C”" in found[0]


def test_a_cause_against_the_report_makes_the_report_false() -> None:
    """A gauge that reads high does not lead to a gauge that shows nothing; nor does a system with nothing wrong."""
    found = " ".join(Case.open(pump(), ["no-reading"]).why("high"))
    assert "“gauge reads high” does not lead to “no pressure is shown”" in found
    assert "false report" in found
    assert "nothing wrong" not in found


# ---- a check


def test_a_check_says_which_suspects_would_give_which_answer(case: Case) -> None:
    """The likeliest suspects by the answer that they would most likely give, with their probability."""
    nothing, rattle, hum, either = case.why("listen")
    assert "“Nothing”" in nothing
    assert "pump seized (9.5 %)" in nothing
    assert "“A rattle”" in rattle
    assert "pipe leaking (38 %)" in rattle
    assert "pump worn (19 %)" in rattle
    assert "“A hum” is expected from none" in hum
    assert "valve stuck" in either


def test_a_check_that_was_answered_says_what_it_excluded(case: Case) -> None:
    (only,) = case.answer("feel", "yes").why("feel")
    assert "“feel the pipe: Is there pressure?” was answered “Yes”" in only
    for title in ("pump worn", "pump seized", "pipe leaking"):
        assert title in only
    assert "valve" not in only


def test_a_check_that_excluded_nothing_says_so(case: Case) -> None:
    (only,) = case.answer("read", "yes").why("read")
    assert "excluded nothing" in only


def test_a_check_that_could_not_be_told_changed_nothing(case: Case) -> None:
    (only,) = case.cannot_tell("feel").why("feel")
    assert "changed nothing" in only


def test_what_another_answer_excludes_as_well_is_not_this_ones_doing() -> None:
    """Only what the check excluded beside all the others counts."""
    text = PUMP.replace(
        "symptoms:", "  again: {title: feel again, ask: Is there pressure?, reads: pressure}\nsymptoms:"
    )
    found = Case.open(library(text), ["still"]).answer("feel", "yes").answer("again", "yes")
    assert "excluded nothing" in found.why("feel")[0]


# ---- words


def test_steps_and_units_have_their_titles() -> None:
    loaded = pump()
    assert unit_title(loaded, "s/pump") == "pump"
    assert unit_title(loaded, "s/valve") == "valve stuck"
    assert step_title(loaded, Reply("s/feel", "no")) == "feel the pipe: Is there pressure?"
    assert step_title(loaded, Repair("s/pump", gone=True)) == "pump"


def test_steps_have_their_outcome() -> None:
    loaded = pump()
    assert step_outcome(loaded, Reply("s/listen", "hum")) == "was answered “A hum”"
    assert step_outcome(loaded, Reply("s/listen", None)) == "could not be told"
    assert step_outcome(loaded, Repair("s/pump", gone=True)) == "was put right and the report was gone"
    assert step_outcome(loaded, Repair("s/pump", gone=False)) == "was put right and the report was still there"


@pytest.mark.parametrize("symptoms", [("s/still",), ("s/no-reading",), ("s/odd",), ("s/still", "s/no-reading")])
def test_there_is_a_reason_for_every_cause_and_check(symptoms: tuple[str, ...]) -> None:
    """In sentences: each ends with a full stop and holds no id."""
    found = Case(pump(), symptoms)
    for name in (*pump().causes, *pump().checks):
        sentences = found.why(name)
        assert sentences
        for sentence in sentences:
            assert sentence.endswith(".")
            assert "s/" not in sentence


def test_reasons_hold_with_the_first_reports_alone() -> None:
    """A posterior without steps has no answer that could exclude anything."""
    posterior = Posterior(pump_frame(), ("s/still",), ())
    assert posterior.log_z_given(posterior.present("s/low")) > float("-inf")
