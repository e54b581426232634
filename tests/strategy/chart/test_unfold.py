"""A rule is followed while there is time for it, where most walks go first; after that comes what is quick."""

from __future__ import annotations

import random
from itertools import count

import pytest

from faultree.strategy.chart.policies import Followed, Rules
from faultree.strategy.chart.search import Search
from faultree.strategy.chart.space import Space
from faultree.strategy.chart.unfold import Timely
from tests.strategy.chart.tasks import random_task


def timely(*, over: bool) -> tuple[Timely, Rules]:
    """To restore, a rule and repairs alone."""
    space = Space(random_task(random.Random(4), causes=8, checks=6, error=0.1, restore=True, least=0.01))
    rules = Rules(Search(space))
    return Timely(space, rules.plain, rules.quick, lambda: over), rules


def test_with_time_it_is_the_rule() -> None:
    one, rules = timely(over=False)
    assert Followed(one.space, one).value(one.space.root) == Followed(one.space, rules.plain).value(one.space.root)


def test_without_time_it_is_what_is_quick() -> None:
    """That needs few states."""
    one, rules = timely(over=True)
    assert Followed(one.space, one).value(one.space.root) == Followed(one.space, rules.quick).value(one.space.root)
    assert len(one.space.states) <= 9


@pytest.mark.parametrize("steps", [1, 5, 12])
def test_what_was_unfolded_is_kept_when_time_is_over(steps: int) -> None:
    """The likeliest states come first: none that was left is likelier than one behind which the rule is followed."""
    one, _ = timely(over=True)
    left = count(1)
    one.unfold(lambda: next(left) > steps)
    unfolded = dict(one.known)
    assert 1 <= len(unfolded) <= steps
    followed = Followed(one.space, one)
    followed.value(one.space.root)
    assert all(one.known[key] is option for key, option in unfolded.items())
    totals = [one.space.states[key].total for key in unfolded]
    assert totals == sorted(totals, reverse=True)
    waiting = [
        after.total
        for key, option in unfolded.items()
        for after in one.space.after(one.space.states[key], option)
        if after is not None and after.key not in unfolded and not one.space.finished(after)
    ]
    assert max(waiting) <= min(totals)


def test_unfolding_to_the_end_leaves_nothing_to_be_quick_about() -> None:
    one, rules = timely(over=True)
    one.unfold(lambda: False)
    assert Followed(one.space, one).value(one.space.root) == Followed(one.space, rules.plain).value(one.space.root)
