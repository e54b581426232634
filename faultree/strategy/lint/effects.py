"""Rules about what causes do: something, and something of their own."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from faultree.belief.engine import TooWide
from faultree.logic.simulate import cone
from faultree.strategy.lint.study import Found, Study, called, name_in, undecided

if TYPE_CHECKING:
    from faultree.library.model import Cause


def no_effect(study: Study) -> Iterator[Found]:
    """Causes that are named below a symptom or a check, and yet change neither."""
    named = _named(study)
    for name, cause in study.library.causes.items():
        study.oracle.effort.renew()
        try:
            if name in named and not study.telling.acts(name):
                message = f"{called(cause)} changes nothing that a symptom or a check sees"
                yield Found(
                    cause,
                    message,
                    "look at what it stands in: that comes out the same whether the cause is there or not",
                )
        except TooWide:
            yield undecided(cause, f"whether {called(cause)} changes anything")


def same_effect(study: Study) -> Iterator[Found]:
    """Causes that no symptom and no check can tell from another one before them."""
    for group in _alike_alone(study):
        kinds: list[str] = []
        for name in group:
            cause = study.library.causes[name]
            study.oracle.effort.renew()
            try:
                twin = next((one for one in kinds if study.telling.alike(one, name)), None)
            except TooWide:
                yield undecided(cause, f"whether {called(cause)} does the same as {name_in(cause, kinds[0])}")
                continue
            if twin is None:
                kinds.append(name)
            else:
                yield _twins(study, cause, twin)


def _twins(study: Study, cause: Cause, twin: str) -> Found:
    message = f"{called(cause)} does the same as {name_in(cause, twin)} to every symptom and check"
    hint = "add a check that tells them apart, or make them one cause"
    return Found(cause, message, hint, (study.library.causes[twin],))


def _named(study: Study) -> frozenset[str]:
    """Causes that are written below something seen or checked, whatever the conditions settle."""
    graph = study.frame.graph
    below = cone(graph, [literal for look in study.telling.looks for literal in look.literals])
    return frozenset(graph.nodes[one].name for one in below if graph.nodes[one].kind == "cause")


def _alike_alone(study: Study) -> Iterator[list[str]]:
    """Causes that show the same in every look when each is the only fault, in the order of the files."""
    telling, groups = study.telling, dict[bytes, list[str]]()
    tables = [table[:, 0] & 1 for look in telling.looks for table in telling.tables(look)]
    for row, name in enumerate(telling.sweep.causes):
        alone = bytes(int(column[row]) for column in tables)
        groups.setdefault(alone, []).append(name)
    for group in groups.values():
        acting = [name for name in group if len(group) > 1 and _surely_acts(study, name)]
        if len(acting) > 1:
            yield acting


def _surely_acts(study: Study, cause: str) -> bool:
    """Whether a cause is known to act; of one that is not, another rule tells."""
    study.oracle.effort.renew()
    try:
        return study.telling.acts(cause)
    except TooWide:
        return False
