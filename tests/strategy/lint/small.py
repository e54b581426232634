"""A small pump whose file breaks no rule, and short ways to break one and to see what is said."""

from __future__ import annotations

from faultree.belief.engine import Limits
from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.strategy.lint.run import lint
from faultree.strategy.lint.study import Study
from faultree.strategy.lint.table import RULES

PUMP = """
faultree: 1
title: A pump
conditions:
  on: {title: pump switched on}
situations:
  running: {title: the pump running, sets: {on: yes}, cautions: [wet]}
items:
  pump: {title: pump, manual: PM 1, cautions: [wet]}
  gauge: {title: gauge, manual: PM 2}
causes:
  worn: {title: pump worn, item: pump, probability: 0.02}
  seized: {title: pump seized, item: pump, probability: 0.01}
  leak: {title: pipe leaking, probability: 0.01, manual: PM 3}
  low: {title: gauge stuck low, item: gauge, probability: 0.01}
signals:
  turns: {title: pump turning, follows: on, lost_if: [seized]}
  flow: {title: water flowing, follows: turns, lost_if: [worn, leak]}
  shown: {title: flow shown, follows: flow, lost_if: [low]}
cautions:
  wet: {text: The floor is wet.}
checks:
  listen: {title: listen to the pump, situation: running, reads: turns, manual: PM 4}
  floor: {title: look at the floor, ask: Is it wet?, reads: leak, manual: PM 4}
  outlet:
    title: look at the outlet
    situation: running
    manual: PM 4
    answers:
      full: {text: A full jet, when: flow}
      nothing: {text: Nothing, when: otherwise}
symptoms:
  no-flow: {title: no flow is shown, situation: running, sees: {shown: no}}
examples:
  - title: the pump is seized
    symptom: no-flow
    answers: {listen: no}
    expect: {first: seized}
"""


def pump(*changes: tuple[str, str], **others: str) -> Library:
    """The pump with parts of its text replaced, beside other files."""
    text = PUMP
    for old, new in changes:
        assert text.count(old) == 1, f"{text.count(old)} times: {old}"
        text = text.replace(old, new)
    return load_texts({"pump.yaml": text, **{f"{name}.yaml": text for name, text in others.items()}})


def after(section: str, *lines: str) -> tuple[str, str]:
    """A change that adds entries at the begin of a section."""
    return f"\n{section}:\n", f"\n{section}:\n" + "".join(f"  {line}\n" for line in lines)


def found(rule: str, library: Library, limits: Limits = Limits()) -> list[str]:
    """What one rule finds, as `message; hint`."""
    (look,) = [one.look for one in RULES if one.name == rule]
    return [f"{one.message}; {one.hint}" for one in look(Study(library, limits))]


def everything(library: Library, limits: Limits = Limits(), *, whole: bool = True) -> list[str]:
    """All that is found, each as `line rule: message; hint`."""
    problems = lint(library, whole=whole, limits=limits)
    return [f"{one.place.line} {one.rule}: {one.message}; {one.hint}" for one in problems]
