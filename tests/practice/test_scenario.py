"""An exercise is the same wherever the library is the same, and its level says what may be hidden."""

from __future__ import annotations

import subprocess
import sys

import pytest

from faultree.base.errors import CaseError
from faultree.library.load import load_texts
from faultree.practice.scenario import FALSE_REPORT, from_code, scenario
from faultree.practice.world import World
from tests.practice.small import GATE, gate


@pytest.mark.parametrize("level", [1, 2, 3, 4])
def test_a_code_sets_the_same_exercise(level: int) -> None:
    for seed in range(20):
        made = scenario(gate(), "still", level, seed)
        assert from_code(gate(), made.code) == made


def test_another_process_sets_the_same_exercise() -> None:
    """Nothing of an exercise depends on the process: texts are hashed anew in each, sets come in another order."""
    program = (
        "import sys; from faultree.library.load import load_texts; from faultree.practice.scenario import scenario\n"
        "library = load_texts({'g.yaml': sys.stdin.read()})\n"
        "for level in (1, 2, 3, 4):\n"
        "    for seed in range(5):\n"
        "        one = scenario(library, 'still', level, seed); print(one.code, sorted(one.hidden), one.words)\n"
    )
    said = [
        subprocess.run([sys.executable, "-c", program], input=GATE, capture_output=True, text=True, check=True).stdout
        for _ in range(2)
    ]
    here = [scenario(gate(), "still", level, seed) for level in (1, 2, 3, 4) for seed in range(5)]
    assert said[0] == said[1] == "".join(f"{one.code} {sorted(one.hidden)} {one.words}\n" for one in here)


def test_levels_hide_what_they_say() -> None:
    sizes = {level: {len(scenario(gate(), "still", level, seed).hidden) for seed in range(200)} for level in (1, 3)}
    assert sizes == {1: {1}, 3: {2}}


def test_a_true_report_is_shown_and_a_wrong_one_is_not() -> None:
    made = [scenario(gate(), "still", level, seed) for level in (1, 2, 3, 4) for seed in range(100)]
    assert all(World(gate(), one).shows() == one.there for one in made)


def test_a_report_that_takes_two_faults_is_set_with_two_at_level_one() -> None:
    """Otherwise the exercise of a symptom that one fault never shows could not be set at all."""
    both = "signals:\n  both: {title: Both, lost_if: [{all: [pump-worn, motor-dead]}]}\n"
    library = load_texts({"g.yaml": GATE.replace("signals:\n", both).replace("sees: {moves: no}", "sees: {both: no}")})
    for level in (1, 2, 3, 4):
        for seed in range(20):
            made = scenario(library, "still", level, seed)
            assert not made.there or made.hidden >= {"g/pump-worn", "g/motor-dead"}


def test_reports_without_cause_are_a_matter_of_the_level() -> None:
    """An author may say that crews report this though it is not there; only level 4 sets such exercises, and tells."""
    library = load_texts({"g.yaml": GATE.replace("retest: 3", "retest: 3, false_report: 0.2")})
    made = [scenario(library, "still", level, seed) for level in (1, 2, 3) for seed in range(60)]
    assert all(World(library, one).shows() and one.there for one in made)
    doubtful = [scenario(library, "still", 4, seed) for seed in range(60)]
    assert all(World(library, one).shows() == one.there for one in doubtful)
    assert 0 < sum(one.there for one in doubtful) < 60


def test_at_level_four_reports_are_wrong_as_often_as_is_said() -> None:
    wrong = sum(not scenario(gate(), "still", 4, seed).there for seed in range(2000)) / 2000
    assert wrong == pytest.approx(FALSE_REPORT, abs=4 * (0.3 * 0.7 / 2000) ** 0.5)


def test_the_crew_speaks_in_the_authors_phrases() -> None:
    assert {scenario(gate(), "still", 1, seed).words for seed in range(30)} == {"gate stuck", "nothing happens"}


def test_an_unknown_level_is_refused() -> None:
    with pytest.raises(CaseError, match="there is no level 5; choose 1 to 4"):
        scenario(gate(), "still", 5, 1)
