"""Compiles the troubleshooting chart of some reports: poses the problem, searches, and draws up the result."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from math import isfinite
from time import monotonic
from typing import TYPE_CHECKING, TypeVar, get_args

from faultree.base.errors import CaseError
from faultree.belief.frame import frame_of
from faultree.belief.posterior import Posterior
from faultree.library.model import Who
from faultree.strategy.case import Case
from faultree.strategy.chart.assemble import Assembly
from faultree.strategy.chart.doubted import without_doubted
from faultree.strategy.chart.policies import Best, Followed, Rules
from faultree.strategy.chart.pose import Posed, pose
from faultree.strategy.chart.search import Search, Stopped
from faultree.strategy.chart.space import Space
from faultree.strategy.chart.suspicion import Reports, suspicion_of
from faultree.strategy.chart.unfold import Timely
from faultree.strategy.chart.value import Chart, Goal

if TYPE_CHECKING:
    from faultree.library.model import Library

LEAST = 1e-3
"""A branch that rests on answers which may be wrong is cut off below this probability."""

DOUBT = 0.05
"""Fault sets that take an error of a check are set aside while together they are no likelier than this."""

FIRST = 0.1
"""The share of the time after which a search that has not finished waits until there is some chart."""

SEARCHING = 0.6
"""The share of the time that the search may take; the rest goes to rollouts where it has not finished."""

AT_LEAST = 1.0
"""Seconds that the first chart may take, whatever the limit: a chart must come out, and should be usable."""

ROLLOUTS = ((False, 4), (False, 12), (True, 4), (True, 12))
"""What rollouts follow, the rule or the best rollouts before, and how many options they compare at a state."""

ROUNDING = 1e-9
"""Charts whose minutes differ by no more than this share are as good as each other."""

Found = TypeVar("Found")


@dataclass(frozen=True)
class Progress:
    """How far a compilation is: seconds spent, states looked at, and the least that a chart can cost so far."""

    seconds: float
    states: int
    lower_bound: float


def compile_chart(
    library: Library,
    symptoms: Iterable[str],
    goal: Goal = "item",
    by: Iterable[str] | None = None,
    limit_s: float = 10.0,
    least: float = LEAST,
    doubt: float = DOUBT,
    progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
    clock: Callable[[], float] = monotonic,
) -> Chart:
    """The chart that costs the least expected minutes, or the best found in time and how good it must be.

    `goal`: tell the `cause`s apart, or the `item`s that would be replaced, or `restore`: also replace, until the
    reports are gone. `by` keeps the checks that the crew, the line or the shop can do. The search ends after
    `limit_s` seconds, when `stop()` is true, or at a KeyboardInterrupt; then the chart is the best known and
    `lower_bound` lies below its minutes. `progress` is called now and then. The same input gives the same chart,
    unless the search was `stopped`.

    Raises UnknownName, CaseError, or Contradiction where nothing explains the reports.
    """
    watch = _Watch(limit_s, stop, progress, clock)
    posed = watch.through(lambda: posed_chart(library, symptoms, goal, by, least, doubt))
    watch.space = space = Space(posed.task)
    best, finished = _looked_for(space, watch)
    chart = watch.through(lambda: Assembly(posed, best).chart(space.root.low, stopped=not finished))
    return watch.through(lambda: without_doubted(library, chart))


def _looked_for(space: Space, watch: _Watch) -> tuple[Followed, bool]:
    """The best policy known, and whether the search has finished: then it is the best there is.

    Where it soon has not, a rule is followed, so that there is a chart; then the search goes on, and at last rollouts
    look for what is better than the rule.
    """
    search = Search(space, watch.poll)
    rules = Rules(search)
    simple = Timely(space, rules.plain, rules.quick, watch.over)
    watch.until(FIRST)
    finished = watch.through(search.run)
    if not finished:
        watch.until(SEARCHING)
        last = max(watch.end, watch.clock() + AT_LEAST)
        watch.through(lambda: simple.unfold(lambda: watch.past(last)))
        finished = watch.through(search.run)
    watch.until(1.0)
    return watch.through(lambda: rolled_out(search, Followed(space, simple), watch.over, rules)), finished


def rolled_out(search: Search, simple: Followed, over: Callable[[], bool], rules: Rules) -> Followed:
    """The best of rollouts of a policy, then of rollouts of these, while there is time; what is proven if anything is.

    What is proven is taken from the search even where the policy costs no more, as the policy depends on the time.
    """
    root, best = search.space.root, simple
    for again, width in ROLLOUTS:
        found = Followed(search.space, Best(search, best if again else simple, over, rules, width))
        if root.done or found.value(root) < best.value(root) * (1.0 - ROUNDING):
            best = found
        if root.done or over():
            break
    return best


@dataclass
class _Watch:
    """The time that is left, whether to stop, and the reports of progress."""

    limit_s: float
    stop: Callable[[], bool] | None
    progress: Callable[[Progress], None] | None
    clock: Callable[[], float]
    stopped: bool = False
    space: Space | None = None
    begin: float = field(init=False)
    end: float = field(init=False)

    def __post_init__(self) -> None:
        self.begin = self.clock()
        self.until(1.0)

    def until(self, share: float) -> None:
        """From now on time is up after a share of the limit."""
        self.end = self.begin + share * self.limit_s

    def through(self, work: Callable[[], Found]) -> Found:
        """Do some work; a first KeyboardInterrupt says that time is up, and the work is done quickly."""
        try:
            return work()
        except KeyboardInterrupt:
            if self.stopped:
                raise
            self.stopped = True
            return work()

    def past(self, end: float) -> bool:
        """Whether it is later than that; reports progress on the way."""
        now = self.clock()
        if self.progress is not None and self.space is not None:
            self.progress(Progress(now - self.begin, len(self.space.states), self.space.root.low))
        return now > end

    def over(self) -> bool:
        """Whether time is up or the work was stopped."""
        self.stopped = self.stopped or (self.stop is not None and self.stop())
        return self.past(self.end) or self.stopped

    def poll(self) -> None:
        """Raise Stopped where time is up."""
        if self.over():
            raise Stopped


def posed_chart(
    library: Library, symptoms: Iterable[str], goal: Goal, by: Iterable[str] | None, least: float, doubt: float
) -> Posed:
    """The problem of a chart."""
    names = tuple(dict.fromkeys(library.symptom_id(name) for name in symptoms))
    if goal not in get_args(Goal):
        raise CaseError(f"a chart's goal is cause, item or restore, not '{goal}'")
    everybody: tuple[Who, ...] = get_args(Who)
    who = everybody if by is None else tuple(one for one in everybody if one in frozenset(by))
    if by is not None and (not who or not frozenset(by) <= frozenset(everybody)):
        raise CaseError("'by' names some of crew, line and shop")
    if goal == "restore" and "line" not in who and "shop" not in who:
        raise CaseError("a crew replaces nothing; for the goal 'restore', 'by' needs the line or the shop")
    reports = Reports(Posterior(frame_of(library), names, ()))
    suspicion = suspicion_of(reports) if names and isfinite(reports.log_z) else None
    if suspicion is None or not suspicion.sets:
        Case.open(library, names)  # says what is wrong
        raise CaseError("no fault set was found that explains the reports")
    return pose(reports.posterior, suspicion, goal, who, least, doubt)
