"""The troubleshooting chart as a value: numbered steps and ends, with what they cost and how good that is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

from faultree.library.model import Who
from faultree.strategy.chart import saved
from faultree.strategy.chart.nodes import GONE as GONE
from faultree.strategy.chart.nodes import STILL as STILL
from faultree.strategy.chart.nodes import Action as Action
from faultree.strategy.chart.nodes import End as End
from faultree.strategy.chart.nodes import Ending as Ending
from faultree.strategy.chart.nodes import Exit as Exit
from faultree.strategy.chart.nodes import Goal as Goal
from faultree.strategy.chart.nodes import Open as Open
from faultree.strategy.chart.nodes import Step as Step

if TYPE_CHECKING:
    from faultree.library.model import Library


@dataclass(frozen=True, eq=False)
class Chart:
    """The compiled chart of some symptoms; minutes and checks are means over the faults that can be there.

    `nodes` goes from number to node, 1 is the root, in printing order; equal parts stand once and are named by
    several exits (a directed acyclic graph). No chart for this goal can cost less than `lower_bound`
    (equal to `expected_minutes` where `optimal`). `cut` is P(a walk of the chart ends in a branch cut off).
    `left_out` bounds P(the faults that are there include none of the fault sets charted / reports). `stopped`
    says that the search ended before it was through: only then may the same input give another chart.
    """

    symptoms: tuple[str, ...]
    goal: Goal
    by: tuple[Who, ...]
    expected_minutes: float
    lower_bound: float
    worst_minutes: float
    expected_checks: float
    cut: float
    digest: str
    nodes: Mapping[int, Step | End]
    left_out: float = 0.0
    stopped: bool = False

    def to_dict(self) -> dict[str, object]:
        """The chart as plain data (JSON and YAML safe), with the field names of the value; `nodes` is a list."""
        head = {one.name: getattr(self, one.name) for one in fields(self) if one.name != "nodes"}
        return saved.to_plain({**head, "optimal": self.optimal}, self)

    @classmethod
    def from_dict(cls, library: Library, data: Mapping[str, object]) -> Chart:
        """The chart that `to_dict` wrote; ChartError names what is wrong, or why it does not fit the library."""
        return cls(**saved.from_plain(library, data))

    @property
    def root(self) -> Step | End:
        """The node to begin with."""
        return self.nodes[1]

    @property
    def optimal(self) -> bool:
        """Whether no chart for this goal costs less."""
        return self.lower_bound >= self.expected_minutes - 1e-9 * max(1.0, self.expected_minutes)

    def __iter__(self) -> Iterator[Step | End]:
        """Every node in printing order."""
        return iter(self.nodes.values())
