"""What the fields of one entry demand of each other."""

from __future__ import annotations

from itertools import pairwise

from faultree.base.words import listing
from faultree.library.findings import Findings
from faultree.library.model import BANDS
from faultree.library.operands import GATES, OTHERWISE
from faultree.library.records import Record

LIKELIHOODS = ("probability", "rate", "likelihood")
"""The three ways to state a likelihood."""


def cause_rule(record: Record, found: Findings) -> None:
    """A cause has exactly one likelihood; hours go with a rate, minutes with a cause without item."""
    given = [name for name in record.keys if name in LIKELIHOODS]
    if not given:
        found.problem(record.key, f"{record.called} has no likelihood", f"add {listing(LIKELIHOODS, 'or')}")
    for extra in given[1:]:
        hint = "a cause has one likelihood: keep one of the two"
        found.problem(record.keys[extra], f"'{extra}' besides '{given[0]}'", hint)
    if "hours" in record.keys and "rate" not in record.keys:
        found.problem(record.keys["hours"], "'hours' without 'rate'", "add the rate per flight hour or remove it")
    if "minutes" in record.keys and "item" in record.keys:
        found.problem(record.keys["minutes"], "'minutes' besides 'item'", "write them at the item: they are its own")


def event_rule(record: Record, found: Findings) -> None:
    """An event has exactly one gate."""
    given = [name for name in record.keys if name in GATES]
    if not given:
        found.problem(record.key, f"{record.called} has no gate", f"add {listing(GATES, 'or')}")
    for extra in given[1:]:
        hint = "an event has one gate: put one below the other"
        found.problem(record.keys[extra], f"'{extra}' besides '{given[0]}'", hint)


def check_rule(record: Record, found: Findings) -> None:
    """A check reads one node or has answers, and each of the two has fields of its own."""
    reads, answers = "reads" in record.keys, "answers" in record.keys
    if reads and answers:
        found.problem(record.keys["answers"], "'answers' besides 'reads'", "a check has one of the two")
    elif reads:
        _refuse(record, ("error",), "'reads'", "use 'false_yes' and 'false_no'", found)
    elif answers:
        _refuse(record, ("yes", "no"), "'answers'", "word each answer by its 'text'", found)
        _refuse(record, ("false_yes", "false_no"), "'answers'", "use 'error'", found)
        _answers(record, found)
    else:
        found.problem(record.key, f"{record.called} has neither 'reads' nor 'answers'", "add one of the two")


def _refuse(record: Record, names: tuple[str, ...], besides: str, hint: str, found: Findings) -> None:
    for name in names:
        if name in record.keys:
            found.problem(record.keys[name], f"'{name}' besides {besides}", hint)


def _answers(record: Record, found: Findings) -> None:
    answers: tuple[Record, ...] | None = record.get("answers")
    if answers is None:
        return
    if len(answers) < 2:
        how_many = "one answer" if answers else "no answer"
        found.problem(record.keys["answers"], f"{record.called} has {how_many}", "write two or more")
    for one in answers[:-1]:
        if one.get("when") is OTHERWISE:
            found.problem(one.keys["when"], "'otherwise' before the last answer", "move this answer to the end")


def symptom_rule(record: Record, found: Findings) -> None:
    """A symptom says in exactly one of two ways what was seen."""
    if "event" in record.keys and "sees" in record.keys:
        found.problem(record.keys["sees"], "'sees' besides 'event'", "add the event to 'sees', and remove 'event'")
    if "event" not in record.keys and "sees" not in record.keys:
        found.problem(record.key, f"{record.called} has neither 'event' nor 'sees'", "add one of the two")


def expect_rule(record: Record, found: Findings) -> None:
    """An example that expects nothing would test nothing."""
    if not record.keys:
        found.problem(record.key, "'expect' is empty", "add 'first' or 'cleared'")
    if "at_least" in record.keys and "first" not in record.keys:
        found.problem(record.keys["at_least"], "'at_least' without 'first'", "name the cause that is so likely")


def bands_rule(record: Record, found: Findings) -> None:
    """The bands are an ordinal scale: none weighs more than the one before it."""
    if len(record.values) < len(record.keys):
        return
    weights = {band: record.get(band, default) for band, default in BANDS.items()}
    for before, after in pairwise(weights):
        if weights[before] < weights[after]:
            at = record.keys[after if after in record.keys else before]
            message = f"'{after}' ({weights[after]:g}) weighs more than '{before}' ({weights[before]:g})"
            found.problem(at, message, f"let them fall in the order {', '.join(weights)}")
