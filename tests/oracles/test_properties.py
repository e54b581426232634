"""Rules that hold for every case whatever the figures are, on random libraries."""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import pairwise

import pytest

from faultree.base.errors import Contradiction
from faultree.library.load import load_texts
from faultree.strategy.case import Case
from tests.oracles.brute import Answered, Brute, entropy
from tests.oracles.held_against import replayed
from tests.oracles.random_cases import random_case
from tests.oracles.random_libraries import random_library

EXACT = 1e-12


def cases(first: int, count: int, steps: int = 3) -> Iterator[tuple[Brute, Case]]:
    """Random cases that something explains, on both sides."""
    for seed in range(first, first + count):
        rng = random.Random(seed)
        brute = random_case(rng, random_library(rng).library, steps=steps, nonsense=0.0)
        if brute.evidence() > 0.0:
            yield brute, replayed(brute)


def figures(case: Case) -> dict[str, float]:
    """The ranking by cause."""
    return {suspect.cause: suspect.probability for suspect in case.ranking()}


def test_every_probability_is_one() -> None:
    """Rounding never leads below 0 or above 1."""
    for _, case in cases(7900, 60):
        for values in (
            [one.probability for one in case.ranking()],
            [one.probability for one in case.units()],
            [one.probability for one in case.explanations(limit=1000)],
            [share for one in case.checks() for share in one.answers.values()],
        ):
            assert all(0.0 <= one <= 1.0 for one in values), values


def test_every_list_comes_best_first() -> None:
    """Suspects, units and explanations by probability, checks by bits."""
    for _, case in cases(8000, 40):
        for values in (
            [one.probability for one in case.ranking()],
            [one.probability for one in case.units()],
            [one.probability for one in case.explanations(limit=1000)],
            [one.bits for one in case.checks()],
        ):
            assert all(one >= two - EXACT for one, two in pairwise(values)), values


def test_a_limit_only_cuts_the_explanations_short() -> None:
    """The heaviest three of all are the three that a limit of three gives."""
    for _, case in cases(8100, 40):
        assert case.explanations(limit=3) == case.explanations(limit=1000)[:3]


def test_the_order_of_answers_does_not_matter() -> None:
    """As long as nothing was repaired between them."""
    for brute, case in cases(8200, 40):
        if all(isinstance(step, Answered) for step in brute.steps):
            turned = replayed(Brute(brute.library, brute.symptoms, brute.steps[::-1]))
            assert figures(turned) == pytest.approx(figures(case), abs=EXACT)


def test_cannot_tell_changes_nothing_but_the_question() -> None:
    """The check is not asked again; every probability stays as it was."""
    for _, case in cases(8300, 30):
        for worth in case.checks()[:1]:
            after = case.cannot_tell(worth.check)
            assert figures(after) == pytest.approx(figures(case), abs=EXACT)
            assert {one.check for one in after.checks()} == {one.check for one in case.checks()} - {worth.check}


def test_undo_and_taking_an_answer_back_lead_where_the_case_came_from() -> None:
    """A step added and dropped leaves an equal case."""
    for _, case in cases(8400, 30):
        for worth in case.checks()[:1]:
            answer = max(worth.answers, key=lambda name: worth.answers[name])
            after = case.answer(worth.check, answer)
            assert after.undo() == case
            assert after.without(worth.check) == case


def test_a_second_answer_takes_the_place_of_the_first() -> None:
    """An imperfect check that is asked again is no new evidence."""
    for _, case in cases(8500, 30):
        for worth in case.checks()[:1]:
            first, *others = [name for name, share in worth.answers.items() if share > EXACT]
            once = case.answer(worth.check, first)
            assert once.answer(worth.check, first).ranking() == once.ranking()
            for other in others:
                assert once.answer(worth.check, other).ranking() == case.answer(worth.check, other).ranking()


def test_expected_posterior_is_the_prior_of_a_check() -> None:
    """What the answers would leave, weighed by how likely they are, is what is believed now."""
    for _, case in cases(8600, 40):
        for worth in case.checks()[:3]:
            mean = dict.fromkeys(figures(case), 0.0)
            for outlook in case.outlook(worth.check).values():
                for suspect in outlook.ranking:
                    mean[suspect.cause] += outlook.probability * suspect.probability
            assert mean == pytest.approx(figures(case), abs=1e-9)


def test_bits_lie_between_nothing_and_the_entropy_of_the_answer() -> None:
    """A check can tell no more than its own answer holds."""
    for _, case in cases(8700, 40):
        for worth in case.checks():
            assert -EXACT <= worth.bits <= entropy(worth.answers.values()) + EXACT
            assert sum(worth.answers.values()) == pytest.approx(1.0, abs=EXACT)


def test_an_answer_of_probability_zero_is_a_contradiction_and_no_other() -> None:
    """The probabilities of the answers foretell which of them can be given."""
    for _, case in cases(8800, 40):
        for worth in case.checks():
            for answer, share in worth.answers.items():
                if share > EXACT:
                    assert case.answer(worth.check, answer).steps[-1] == (worth.check, answer)
                else:
                    with pytest.raises(Contradiction) as raised:
                        case.answer(worth.check, answer)
                    assert (worth.check, answer) in raised.value.answers


@pytest.mark.parametrize("count", [3, 5, 9, 17])
def test_causes_that_stand_alike_keep_the_order_of_the_files(count: int) -> None:
    """Rounding must not shuffle equal causes: a ranking reads the same on every machine and after every detour."""
    names = [f"c{number:02}" for number in range(count)]
    causes = "".join(f"  {name}: {{title: {name}, probability: 0.22}}\n" for name in names)
    text = f"causes:\n{causes}events:\n  some: {{title: Some, any: [{', '.join(names)}]}}\n"
    symptoms = "symptoms:\n  reported: {title: Reported, event: some}\n"
    library = load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{text}{symptoms}"})
    ranking = Case.open(library, ["s/reported"]).ranking()
    assert [suspect.cause for suspect in ranking] == [f"s/{name}" for name in names]
