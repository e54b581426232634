"""Builds the frozen model from records in which nothing is wrong."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeVar

from faultree.library import model
from faultree.library.documents import Document
from faultree.library.names import Index
from faultree.library.operands import GATES, OTHERWISE
from faultree.library.records import Record
from faultree.library.whole import bands, probability

T = TypeVar("T")


def build(documents: Sequence[Document], known: Index, folder: str, digest: str) -> model.Library:
    """The library of documents without problems."""
    weights = bands(documents)

    def table(section: str, make: Callable[[Record], T]) -> dict[str, T]:
        return {full: make(record) for full, record in known.sections[section].items()}

    return model.Library(
        folder=folder,
        systems={one.system: _system(one.head) for one in documents if one.head is not None},
        conditions=table("conditions", _condition),
        situations=_situations(known.sections["situations"]),
        items=table("items", _item),
        causes=table("causes", lambda record: _cause(record, weights)),
        signals=table("signals", _signal),
        events=table("events", _event),
        access=table("access", _access),
        cautions=table("cautions", _caution),
        checks=table("checks", _check),
        symptoms=table("symptoms", _symptom),
        examples=tuple(_example(record) for one in documents for record in one.section("examples")),
        bands=weights,
        digest=digest,
    )


def _entry(record: Record, *names: str) -> dict[str, Any]:
    """The arguments that every entry takes, and those of the named fields that were given."""
    given = {name: record.values[name] for name in ("title", *names) if name in record.values}
    return {"id": record.id, "at": record.place, "extra": record.extra, **given}


def _system(record: Record) -> model.System:
    return model.System(**_entry(record, "summary", "chapter", "authority"))


def _condition(record: Record) -> model.Condition:
    return model.Condition(**_entry(record, "usually"))


def _item(record: Record) -> model.Item:
    return model.Item(**_entry(record, "place", "manual", "minutes", "access", "cautions"))


def _cause(record: Record, weights: Mapping[str, float]) -> model.Cause:
    chance = probability(record, weights)
    assert chance is not None
    likelihood = model.Likelihood(
        record.get("probability"), record.get("rate"), record.get("hours", 1.0), record.get("likelihood")
    )
    return model.Cause(**_entry(record, "item", "minutes", "manual", "note"), probability=chance, likelihood=likelihood)


def _signal(record: Record) -> model.Signal:
    return model.Signal(**_entry(record, "follows", "lost_if", "forced_if", "undeveloped"))


def _event(record: Record) -> model.Event:
    gate = next(record.values[name] for name in GATES if name in record.values)
    return model.Event(**_entry(record), gate=gate)


def _access(record: Record) -> model.Access:
    return model.Access(**_entry(record, "minutes", "cautions", "afterwards"))


def _caution(record: Record) -> model.Caution:
    return model.Caution(**_entry(record, "text", "level", "afterwards"), title=record.values["text"])


def _check(record: Record) -> model.Check:
    names = ("ask", "situation", "reads", "false_yes", "false_no", "error", "minutes", "access", "by")
    answers = _read_answers(record) if "reads" in record.values else _own_answers(record.values["answers"])
    return model.Check(**_entry(record, *names, "cautions", "manual", "tools", "note"), answers=answers)


def _read_answers(record: Record) -> tuple[model.Answer, ...]:
    at = record.place
    node = model.Ref(record.values["reads"], at)
    return (
        model.Answer("yes", record.get("yes", "Yes"), node),
        model.Answer("no", record.get("no", "No"), model.Gate("not", (node,), at=at)),
    )


def _own_answers(records: Sequence[Record]) -> tuple[model.Answer, ...]:
    others = tuple(one.values["when"] for one in records[:-1])
    answers = []
    for one in records:
        when = one.values["when"]
        if when is OTHERWISE:
            when = model.Gate("none", others, at=one.place)
        answers.append(model.Answer(one.id, one.values["text"], when, one.extra))
    return tuple(answers)


def _symptom(record: Record) -> model.Symptom:
    sees = record.values["sees"] if "sees" in record.values else ((record.values["event"], True),)
    names = ("words", "situation", "false_report", "retest", "manual", "note")
    return model.Symptom(**_entry(record, *names), sees=sees)


def _example(record: Record) -> model.Example:
    answers = tuple((check, answer.text) for check, answer in record.get("answers", ()))
    expect = model.Expectation(**record.values["expect"].values)
    return model.Example(record.values["title"], record.values["symptom"], answers, expect, record.place, record.extra)


def _situations(records: Mapping[str, Record]) -> dict[str, model.Situation]:
    """Every situation with what it inherits: the parent's settings and cautions come first."""
    done: dict[str, model.Situation] = {}
    for full in records:
        chain = [full]
        while (parent := records[chain[-1]].get("extends")) is not None and parent not in done:
            chain.append(parent)
        for one in reversed(chain):
            done.setdefault(one, _situation(records[one], done))
    return {full: done[full] for full in records}


def _situation(record: Record, done: Mapping[str, model.Situation]) -> model.Situation:
    parent = done.get(record.get("extends", ""))
    sets = {**(parent.sets if parent else {}), **dict(record.get("sets", ()))}
    cautions = dict.fromkeys((*(parent.cautions if parent else ()), *record.get("cautions", ())))
    return model.Situation(**_entry(record, "extends"), sets=sets, cautions=tuple(cautions))
