"""A dependency matrix goes out with all that a person needs beside it, and means the same when it comes in."""

from __future__ import annotations

import csv
import io
import math
import random

import pytest

from faultree.base.errors import FaultreeError
from faultree.library.exchange.matrix import read_matrix
from faultree.library.load import load_texts
from faultree.strategy.dependency import dependency_matrix
from faultree.strategy.matrix_export import matrix_text
from tests.oracles.random_libraries import SMALL, random_library

PUMP = """
faultree: 1
title: Pump
conditions:
  on: {title: switched on}
situations:
  running: {title: running, sets: {on: yes}, cautions: [spin]}
items:
  motor: {title: the motor, place: bay, manual: M 1, minutes: 25}
causes:
  dead: {title: =cmd, item: motor, likelihood: remote}
  slow: {title: motor slow, item: motor, probability: 0.02}
  fuse: {title: fuse blown, rate: 1e-4, hours: 10, minutes: 4, manual: M 3}
  lamp-out: {title: lamp out, probability: 0.1}
signals:
  fed: {title: motor fed, follows: on, lost_if: [fuse]}
  turns: {title: motor turning, follows: fed, lost_if: [dead, slow]}
  lit: {title: lamp lit, follows: fed, lost_if: [lamp-out]}
access:
  panel: {title: open the panel, minutes: 8, cautions: [sharp]}
cautions:
  spin: {text: Keep clear., level: warning}
  sharp: {text: Sharp edges.}
checks:
  lamp: {title: look at the lamp, situation: running, reads: lit, no: it is dark, false_no: 0.1, by: crew}
  ear:
    title: listen
    access: [panel]
    tools: [ladder, torch]
    answers:
      slow: {text: it hums, when: {all: [slow, {not: dead}]}}
      silent: {text: nothing, when: otherwise}
  idle: {title: look at the pump, reads: lamp-out}
symptoms:
  stands: {title: it stands still, situation: running, sees: {turns: no}}
  dark: {title: dark and turning, situation: running, sees: {turns: no, lit: yes, fed: no}}
"""


def _rows(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline="")))


def test_the_table_of_a_symptom() -> None:
    done = matrix_text(load_texts({"pump.yaml": PUMP}), "pump/stands")
    assert _rows(done.text) == [
        ["cause", "title", "item", "item title", "place", "manual", "likelihood", "minutes", "symptom", "lamp", "ear"],
        ["(title)", "", "", "", "", "", "", "", "it stands still", "look at the lamp", "listen"],
        ["(situation)", "", "", "", "", "", "", "", "", "running", ""],
        ["(by)", "", "", "", "", "", "", "", "", "crew", "line"],
        ["(minutes)", "", "", "", "", "", "", "", "", "5", "5"],
        ["(no)", "", "", "", "", "", "", "", "", "it is dark", ""],
        ["(answers)", "", "", "", "", "", "", "", "", "", "slow: it hums | silent: nothing"],
        ["(false_no)", "", "", "", "", "", "", "", "", "0.1", ""],
        ["(cautions)", "", "", "", "", "", "", "", "", "warning: Keep clear.", "caution: Sharp edges."],
        ["(tools)", "", "", "", "", "", "", "", "", "", "ladder | torch"],
        ["(usual)", "", "", "", "", "", "", "", "", "yes", "silent"],
        ["dead", "'=cmd", "motor", "the motor", "bay", "M 1", "remote", "25", "yes", "yes", "silent"],
        ["slow", "motor slow", "motor", "the motor", "bay", "M 1", "0.02", "25", "yes", "yes", "slow"],
        ["fuse", "fuse blown", "", "", "", "M 3", repr(-math.expm1(-1e-3)), "4", "yes", "no", "silent"],
    ]
    assert done.notes[-1].startswith("The approved maintenance manual and a licensed engineer decide")


def test_no_matrix_where_no_cause_alone_produces_it() -> None:
    with pytest.raises(FaultreeError, match="no cause alone produces 'pump/dark', so it has no dependency matrix"):
        matrix_text(load_texts({"pump.yaml": PUMP}), "pump/dark")


@pytest.mark.parametrize("seed", range(40))
def test_what_comes_in_again_has_the_same_matrix(seed: int) -> None:
    """Causes, likelihoods, times and every answer, on random libraries."""
    library = random_library(random.Random(seed), SMALL).library
    for symptom in library.symptoms:
        before = dependency_matrix(library, symptom)
        if not before.causes or not any(before.responding.values()):
            continue
        found = read_matrix(matrix_text(library, symptom).text.encode(), "m.csv", "m")
        assert found.text is not None, "\n".join(map(str, found.problems))
        back = load_texts({"m.yaml": found.text})
        after = dependency_matrix(back, "m/m")
        assert len(after.causes) == len(before.causes)
        for one, two in zip(before.causes, after.causes, strict=True):
            assert back.causes[two].probability == pytest.approx(library.causes[one].probability, rel=1e-12)
            assert back.causes[two].title == library.causes[one].title
        kept = [name for name in before.checks if any(name in before.responding[cause] for cause in before.causes)]
        for name, again in zip(kept, after.checks, strict=True):
            assert after.answers[again] == before.answers[name]
            assert after.usual[again] == before.usual[name]
            assert back.checks[again].minutes == library.checks[name].minutes
