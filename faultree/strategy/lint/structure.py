"""Rules about how entries hang together: what leads nowhere, and what would be drawn unreadably."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from faultree.library.model import Gate, Ref, refs
from faultree.logic.graph import operands
from faultree.strategy.lint.study import Found, Study, called, names_in

if TYPE_CHECKING:
    from faultree.library.model import (
        Access,
        Check,
        Entry,
        Event,
        Item,
        Library,
        Operand,
        Signal,
        Situation,
        Symptom,
    )

MOST_NESTED = 2
"""Gates that may stand one in another: a gate, and one more in it."""


def unreachable(study: Study) -> Iterator[Found]:
    """Nodes on which no symptom and no check depends, each with what only it uses."""
    library = study.library
    below = _below(library)
    used = _closure(below, _looked_at(library))
    idle = [name for name in (*library.conditions, *library.causes, *below) if name not in used]
    inner = {name for one in idle for name in below.get(one, ())}
    told: set[str] = set()
    for name in idle:
        if name not in inner:
            entry = library.node(name)
            under = [one for one in idle if one != name and one in _closure(below, [name]) and one not in told]
            told.update(under)
            also = f", nor on {names_in(entry, under)} below it" if under else ""
            yield Found(entry, f"no symptom and no check depends on {called(entry)}{also}", "use it or remove it")


def _below(library: Library) -> dict[str, list[str]]:
    """What each signal and event names."""
    defined: Mapping[str, Signal | Event] = {**library.signals, **library.events}
    return {name: [ref.id for one in operands(entry) for ref in refs(one)] for name, entry in defined.items()}


def _looked_at(library: Library) -> list[str]:
    """Every node that a symptom or a check names."""
    seen = [node for symptom in library.symptoms.values() for node, _ in symptom.sees]
    read = [ref.id for check in library.checks.values() for answer in check.answers for ref in refs(answer.when)]
    return seen + read


def _closure(below: Mapping[str, Iterable[str]], start: Iterable[str]) -> set[str]:
    found: set[str] = set()
    pending = list(start)
    while pending:
        name = pending.pop()
        if name not in found:
            found.add(name)
            pending.extend(below.get(name, ()))
    return found


def unused(study: Study) -> Iterator[Found]:
    """Items without causes, and situations, access and cautions that nothing names."""
    library = study.library
    needy: list[Item | Check] = [*library.items.values(), *library.checks.values()]
    cautious: list[Item | Check | Situation | Access] = [*needy, *library.situations.values(), *library.access.values()]
    named: list[tuple[Mapping[str, Entry], set[str | None], str]] = [
        (library.items, {cause.item for cause in library.causes.values()}, "no cause belongs to"),
        (library.situations, _situations(library), "nothing is seen or checked in"),
        (library.access, {name for one in needy for name in one.access}, "no check and no item needs"),
        (library.cautions, {name for one in cautious for name in one.cautions}, "nothing shows"),
    ]
    for entries, used, what in named:
        for name, entry in entries.items():
            if name not in used:
                yield Found(entry, f"{what} {called(entry)}", "use it or remove it")


def _situations(library: Library) -> set[str | None]:
    """Situations in which something is seen or checked, and those that other ones extend."""
    looks: list[Symptom | Check] = [*library.symptoms.values(), *library.checks.values()]
    return {one.situation for one in looks} | {one.extends for one in library.situations.values()}


def nested_gates(study: Study) -> Iterator[Found]:
    """Operands in which gates stand more than one level deep in each other, with nothing that says what they mean."""
    library = study.library
    defined: list[Signal | Event] = [*library.signals.values(), *library.events.values()]
    entries: list[tuple[Entry, Iterable[Operand]]] = [(entry, operands(entry)) for entry in defined]
    entries += [(check, _whens(check)) for check in library.checks.values()]
    for entry, tops in entries:
        if max(map(_depth, tops), default=0) > MOST_NESTED:
            message = f"{called(entry)} has gates nested more than one level deep"
            yield Found(entry, message, "make the inner ones signals or events of their own, with a title")


def _whens(check: Check) -> list[Operand]:
    """What the author wrote of the answers: `otherwise` and the two of a node that is read are no nested gates."""
    if check.reads is not None:
        return []
    others = tuple(answer.when for answer in check.answers[:-1])
    last = check.answers[-1].when
    return [*others, *(() if last == Gate("none", others) else (last,))]


def _depth(operand: Operand) -> int:
    """How many gates stand one in another; a negated reference is none."""
    if isinstance(operand, Ref):
        return 0
    inner = max(map(_depth, operand.operands), default=0)
    return inner if operand.kind == "not" else inner + 1
