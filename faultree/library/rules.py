"""What the fields of one entry demand of each other."""

from __future__ import annotations

from faultree.base.words import listing
from faultree.library.findings import Findings
from faultree.library.kinds import GATES, OTHERWISE
from faultree.library.model import BANDS
from faultree.library.records import Record, named

LIKELIHOODS = ("probability", "rate", "likelihood")


def cause_rule(record: Record, found: Findings) -> None:
    """A cause has exactly one likelihood; hours go with a rate, minutes with a cause without item."""
    given = [name for name in LIKELIHOODS if name in record.keys]
    if not given:
        found.problem(record.key, f"{named(record)} has no likelihood", f"add one of {listing(LIKELIHOODS, 'or')}")
    for extra in given[1:]:
        found.problem(record.keys[extra], f"a second likelihood, besides '{given[0]}'", "keep one of the two")
    if "hours" in record.keys and "rate" not in record.keys:
        found.problem(record.keys["hours"], "'hours' without a 'rate'", "add the rate per flight hour or remove it")
    if "minutes" in record.keys and "item" in record.keys:
        hint = f"move it to item '{record.get('item', '')}'" if record.get("item") else "move it to the item"
        found.problem(record.keys["minutes"], "'minutes' of a cause that has an item", hint)


def event_rule(record: Record, found: Findings) -> None:
    """An event has exactly one gate."""
    given = [name for name in GATES if name in record.keys]
    if not given:
        found.problem(record.key, f"{named(record)} has no gate", f"add one of {listing(GATES, 'or')}")
    for extra in given[1:]:
        found.problem(record.keys[extra], f"a second gate, besides '{given[0]}'", "put one below the other")


def check_rule(record: Record, found: Findings) -> None:
    """A check reads one node or has answers, and each kind has its own fields."""
    reads, answers = "reads" in record.keys, "answers" in record.keys
    if reads and answers:
        found.problem(record.keys["answers"], "'answers' besides 'reads'", "keep one of the two")
    if not reads and not answers:
        found.problem(record.key, f"{named(record)} tells nothing", "add 'reads: node' or 'answers: ...'")
    if reads != answers:
        wrong = ("error",) if reads else ("yes", "no", "false_yes", "false_no")
        hint = "use 'false_yes' and 'false_no'" if reads else "word and weigh each answer with 'answers' and 'error'"
        for name in wrong:
            if name in record.keys:
                found.problem(record.keys[name], f"'{name}' besides '{'reads' if reads else 'answers'}'", hint)
    if answers and not reads and "answers" in record.values:
        _answers(record, found)


def _answers(record: Record, found: Findings) -> None:
    answers: tuple[Record, ...] = record.get("answers")
    if len(answers) < 2:
        found.problem(record.keys["answers"], f"'answers' holds {len(answers)}", "write two or more")
    for one in answers[:-1]:
        if one.get("when") is OTHERWISE:
            found.problem(one.keys["when"], "'otherwise' before the last answer", "move this answer to the end")


def symptom_rule(record: Record, found: Findings) -> None:
    """A symptom names what was seen in exactly one of two ways."""
    if "event" in record.keys and "sees" in record.keys:
        found.problem(record.keys["sees"], "'sees' besides 'event'", "keep 'sees' and add the event to it")
    if "event" not in record.keys and "sees" not in record.keys:
        found.problem(record.key, f"{named(record)} has neither 'event' nor 'sees'", "add one of the two")


def expect_rule(record: Record, found: Findings) -> None:
    """An example that expects nothing would test nothing."""
    if not record.keys:
        found.problem(record.key, "'expect' expects nothing", "add 'first' or 'cleared'")
    if "at_least" in record.keys and "first" not in record.keys:
        found.problem(record.keys["at_least"], "'at_least' without 'first'", "add 'first: cause'")


def bands_rule(record: Record, found: Findings) -> None:
    """The bands are an ordinal scale: none may weigh more than the one before it."""
    weights = {name: record.get(name, default) for name, default in BANDS.items()}
    if any(name in record.keys and name not in record.values for name in weights):
        return
    names = list(weights)
    for before, after in zip(names, names[1:], strict=False):
        if weights[before] < weights[after]:
            at = record.keys.get(after) or record.keys[before]
            message = f"'{after}' ({weights[after]:g}) weighs more than '{before}' ({weights[before]:g})"
            found.problem(at, message, f"order them: {listing(names)}")
