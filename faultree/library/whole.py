"""What the files of a library demand of each other: no cycles, one scale, items that can be good."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence

from faultree.base.problem import Problem
from faultree.base.words import listing
from faultree.library.cycles import cycles
from faultree.library.documents import Document
from faultree.library.model import BANDS, Operand, refs
from faultree.library.names import Index
from faultree.library.operands import GATES
from faultree.library.records import Record
from faultree.library.values import shown


def bands(documents: Sequence[Document]) -> dict[str, float]:
    """The weights of the likelihood bands: the defaults, and what the files say instead."""
    weights = dict(BANDS)
    for record, _ in _scales(documents):
        weights.update(record.values)
    return weights


def _scales(documents: Sequence[Document]) -> Iterator[tuple[Record, Document]]:
    for document in documents:
        scale = document.head.get("likelihoods") if document.head else None
        if isinstance(scale, Record):
            yield scale, document


def check_bands(documents: Sequence[Document]) -> Iterator[Problem]:
    """Bands to which two files give different weights."""
    first: dict[str, tuple[float, str]] = {}
    for record, document in _scales(documents):
        for band, weight in record.values.items():
            other, file = first.setdefault(band, (weight, document.file))
            if other != weight:
                message = f"'{band}' is {weight:g} here and {other:g} in {file}"
                yield record.problem(record.keys[band], message, "give the scale in one file", "value")


def probability(record: Record, weights: Mapping[str, float]) -> float | None:
    """The probability of a cause, 1 - exp(-rate x hours) where it has a rate; None where it has none."""
    if "probability" in record.values:
        return float(record.values["probability"])
    if "rate" in record.values:
        return -math.expm1(-record.values["rate"] * record.get("hours", 1.0))
    return weights.get(record.get("likelihood", ""))


def check_probabilities(known: Index, weights: Mapping[str, float]) -> Iterator[Problem]:
    """Causes that are certain, and items that can never be good."""
    shares: dict[str, list[float]] = {}
    for record in known.sections["causes"].values():
        chance = probability(record, weights)
        if chance is None:
            continue
        if not 0.0 < chance < 1.0:
            at = record.keys.get("hours", record.keys["rate"])
            message = f"the rate over these hours gives the probability {chance:g}"
            yield record.problem(at, message, "lower the rate or the hours", "value")
        if "item" in record.values:
            shares.setdefault(record.values["item"], []).append(chance)
    for item, parts in shares.items():
        total = math.fsum(parts)
        owner = known.sections["items"].get(item)
        if owner is not None and total >= 1.0:
            message = f"the probabilities of the causes of item '{shown(owner.short)}' add up to {total:.4g}"
            hint = "they exclude each other: lower them to a sum below 1"
            yield owner.problem(owner.key, message, hint, "value")


def operands(record: Record) -> Iterator[Operand]:
    """Every operand of a signal or an event."""
    if "follows" in record.values:
        yield record.values["follows"]
    for name in ("lost_if", "forced_if"):
        yield from record.get(name, ())
    for name in GATES:
        if name in record.values:
            yield record.values[name]


def check_cycles(known: Index) -> Iterator[Problem]:
    """Every cycle of signals and events, and every cycle of situations."""
    logic = {**known.sections["signals"], **known.sections["events"]}
    graph = {full: [ref.id for one in operands(record) for ref in refs(one)] for full, record in logic.items()}
    yield from _cycles(logic, graph, "no signal or event may depend on itself: break it at one of them")
    situations = known.sections["situations"]
    parents = {full: _one(record.get("extends")) for full, record in situations.items()}
    yield from _cycles(situations, parents, "no situation may extend itself: break it at one of them")


def _one(value: str | None) -> tuple[str, ...]:
    return () if value is None else (value,)


def _cycles(records: Mapping[str, Record], graph: Mapping[str, Sequence[str]], hint: str) -> Iterator[Problem]:
    for cycle in cycles(graph):
        first = records[cycle[0]]
        home = first.id.partition("/")[0]
        names = [shown(full.removeprefix(f"{home}/")) for full in (*cycle, cycle[0])]
        yield first.problem(first.key, f"cycle: {' -> '.join(shown_path(names))}", hint, "cycle")


def shown_path(names: Sequence[str], most: int = 24) -> list[str]:
    """The names of a cycle; of a very long one the middle is left out."""
    if len(names) <= most:
        return list(names)
    half = most // 2
    return [*names[:half], f"({len(names) - 2 * half} more)", *names[-half:]]


MOST_SETTINGS = 500_000
"""Most settings that all situations may hold together, with what they inherit."""


def check_settings(known: Index) -> Iterator[Problem]:
    """Situations that inherit so much that they could fill the memory; asked only where there is no cycle."""
    situations = known.sections["situations"]
    sizes: dict[str, int] = {}
    for full in situations:
        chain = [full]
        while (parent := situations[chain[-1]].get("extends")) in situations and parent not in sizes:
            chain.append(parent)
        for one in reversed(chain):
            record = situations[one]
            sizes[one] = len(record.get("sets", ())) + sizes.get(record.get("extends", ""), 0)
    if sum(sizes.values()) > MOST_SETTINGS:
        largest = situations[max(sizes, key=sizes.__getitem__)]
        message = f"the situations hold more than {MOST_SETTINGS:,} settings with what they inherit"
        yield largest.problem(largest.key, message, "extend fewer of them", "value")


def check_examples(documents: Sequence[Document], known: Index) -> Iterator[Problem]:
    """Answers in examples that their check does not have."""
    options: dict[str, dict[str, None] | None] = {}
    for document in documents:
        for example in document.section("examples"):
            for check, answer in example.get("answers", ()):
                if check not in options:
                    options[check] = _answer_ids(known.sections["checks"].get(check))
                names = options[check]
                if names is not None and answer.text not in names:
                    message = f"check '{shown(check)}' has no answer '{shown(answer.text)}'"
                    hint = document.found.remedy(answer.text, names, _answers_in_words(names))
                    yield example.problem(answer, message, hint, "reference")


def _answer_ids(record: Record | None) -> dict[str, None] | None:
    """The ids of a check's answers in order; None where they could not be read."""
    if record is None or "reads" in record.keys:
        return None if record is None else {"yes": None, "no": None}
    answers: tuple[Record, ...] | None = record.get("answers")
    return None if answers is None else {one.id: None for one in answers}


def _answers_in_words(names: Collection[str], most: int = 12) -> str:
    listed = listing(names) if len(names) <= most else f"{', '.join(list(names)[:most])} and more"
    return f"its answers are {listed}"
