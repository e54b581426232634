"""From a policy to the chart as a value: states that it can reach become numbered steps and ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from faultree.strategy.chart import words
from faultree.strategy.chart.nodes import STRANGE, mender
from faultree.strategy.chart.onward import best_check
from faultree.strategy.chart.task import members_of
from faultree.strategy.chart.value import Chart, End, Exit, Open, Step

if TYPE_CHECKING:
    from faultree.strategy.chart.policies import Followed
    from faultree.strategy.chart.pose import Posed
    from faultree.strategy.chart.space import Option, State
    from faultree.strategy.chart.task import Move
    from faultree.strategy.chart.value import Ending

Name = tuple[object, ...]
"""What makes a node: equal names are one node of the chart."""


@dataclass
class _Draft:
    """A node on the way to the chart: its state, what is done, and where each outcome leads."""

    state: State
    option: Option | None
    repaired: str | None = None
    exits: list[tuple[str, str, float, Name]] = field(default_factory=list)
    probability: float = 0.0
    onward: str | None = None


@dataclass(eq=False)
class Assembly:
    """One chart in the making."""

    posed: Posed
    followed: Followed
    drafts: dict[Name, _Draft] = field(default_factory=dict)

    def chart(self, lower_bound: float, *, stopped: bool) -> Chart:
        """The chart; `lower_bound` is for any chart of this goal."""
        root = self._draft(self.followed.space.root)
        numbers = {name: number for number, name in enumerate(self._printed(root), start=1)}
        self._spread(root, numbers)
        nodes = {number: self._node(name, numbers) for name, number in numbers.items()}
        posed = self.posed
        expected = self.followed.value(self.followed.space.root)
        return Chart(
            symptoms=posed.symptoms,
            goal=posed.goal,
            by=posed.by,
            expected_minutes=expected,
            lower_bound=min(lower_bound, expected),
            worst_minutes=_worst(nodes),
            expected_checks=sum(node.probability for node in nodes.values() if isinstance(node, Step)),
            cut=sum(draft.probability for draft in self.drafts.values() if self._cut(draft)),
            digest=posed.library.digest,
            nodes=nodes,
            left_out=posed.suspicion.left_out,
            stopped=stopped,
        )

    # -- which nodes there are -----------------------------------------------------------------------

    def _draft(self, state: State) -> Name:
        option = self.followed.choice(state)
        open_matters = option is not None or self.posed.task.restore
        name: Name = (*(state.key if open_matters else state.key.known), option is None)
        if name not in self.drafts:
            draft = self.drafts[name] = _Draft(state, option)
            if option is not None:
                self._follow(draft, option)
        return name

    def _follow(self, draft: _Draft, option: Option) -> None:
        space, state = self.followed.space, draft.state
        texts = self._texts(option)
        for (answer, text), row, after in zip(texts, option.move.rows, space.after(state, option), strict=True):
            share = float(state.weights @ space.task.shows[row])
            if after is not None:
                draft.exits.append((answer, text, share, self._draft(after)))
            elif share > 0.0:
                draft.exits.append((answer, text, share, self._gone(state, option, row)))

    def _texts(self, option: Option) -> list[tuple[str, str]]:
        if option.move.is_check:
            return [(one.id, one.text) for one in self.posed.library.checks[option.move.name].answers]
        return [("gone", "The report is gone"), ("still", "The report is still there")]

    def _gone(self, state: State, option: Option, row: int) -> Name:
        """The end after a repair that cleared the reports."""
        mask = state.mask & self.posed.task.support[row]
        name: Name = (mask, *state.key.known, option.move.name)
        self.drafts.setdefault(name, _Draft(state, None, repaired=option.move.name))
        return name

    def _printed(self, root: Name) -> list[Name]:
        """Nodes in printing order, each once: steps by the first exit's branch first, then ends, those cut off last."""
        order: dict[Name, None] = {}
        pending = [root]
        while pending:
            name = pending.pop()
            if name not in order:
                order[name] = None
                pending += [to for _, _, _, to in reversed(self.drafts[name].exits)]
        return sorted(order, key=lambda name: self._rank(self.drafts[name]))

    def _rank(self, draft: _Draft) -> int:
        return 0 if draft.option is not None else 1 + self._cut(draft)

    def _spread(self, root: Name, numbers: dict[Name, int]) -> None:
        """P(a walk comes to each node), along every exit, users before what they lead to."""
        self.drafts[root].probability = 1.0
        waiting = dict.fromkeys(numbers, 0)
        for name in numbers:
            for _, _, _, to in self.drafts[name].exits:
                waiting[to] += 1
        ready = [root]
        while ready:
            draft = self.drafts[ready.pop()]
            for _, _, share, to in draft.exits:
                self.drafts[to].probability += draft.probability * share / draft.state.total
                waiting[to] -= 1
                if not waiting[to]:
                    ready.append(to)

    # -- the nodes themselves ------------------------------------------------------------------------

    def _node(self, name: Name, numbers: dict[Name, int]) -> Step | End:
        draft = self.drafts[name]
        if draft.option is None:
            return self._end(draft, numbers[name])
        return self._step(draft, draft.option, numbers[name], numbers)

    def _step(self, draft: _Draft, option: Option, number: int, numbers: dict[Name, int]) -> Step:
        library, move, state = self.posed.library, option.move, draft.state
        opens = tuple(self.posed.ways[place] for place in members_of(move.access & ~state.key.opened))
        check = library.checks.get(move.name) if move.is_check else None
        if check is not None:
            title, ask, who = check.title, check.ask, check.by
            cautions = words.check_cautions(library, move.name)
        else:
            title = words.unit_title(library, move.name)
            ask, who = "Is the report gone when the operational check is repeated?", mender(self.posed.by)
            cautions = words.repair_cautions(library, [move.name], self.posed.symptoms)
        return Step(
            number=number,
            action=move.action,
            target=move.name,
            title=title,
            ask=ask,
            by=who,
            minutes=self.followed.space.minutes(state, move),
            opens=opens,
            cautions=cautions,
            probability=draft.probability,
            open=self._open(state.weights),
            exits=tuple(
                Exit(answer, text, share / state.total, numbers[to]) for answer, text, share, to in draft.exits
            ),
        )

    def _open(self, weights: np.ndarray) -> tuple[Open, ...]:
        """Causes by P(cause / path), likeliest first."""
        chances: dict[str, float] = {}
        for place in np.flatnonzero(weights).tolist():
            for cause in sorted(self.posed.sets[place]):
                chances[cause] = chances.get(cause, 0.0) + float(weights[place])
        total, causes = float(weights.sum()), self.posed.library.causes
        found = [Open(cause, causes[cause].item, min(chance / total, 1.0)) for cause, chance in chances.items()]
        return tuple(sorted(found, key=lambda one: (-round(one.probability, 12), one.cause)))

    def _cut(self, draft: _Draft) -> bool:
        """Whether the branch was cut off before everything that can be told apart was."""
        return draft.option is None and not draft.repaired and self.followed.space.cut(draft.state)

    def _end(self, draft: _Draft, number: int) -> End:
        library, state = self.posed.library, draft.state
        weights = state.weights
        if draft.repaired is not None:
            option = next(one for one in self.posed.task.moves if one.name == draft.repaired)
            weights = weights * self.posed.task.shows[option.rows[0]]
        causes = self._open(weights)
        ending, units = self._ending(draft, causes)
        repairs = self._repairs(draft)
        return End(
            number=number,
            ending=ending,
            units=units,
            causes=causes,
            manual=words.manuals(library, units, (one.cause for one in causes)),
            cautions=self._cautions_at(draft, ending, units),
            probability=draft.probability,
            say=self._say(draft, ending, units),
            cut=self._cut(draft),
            minutes=self.followed.space.rest(state) / state.total if repairs else 0.0,
            worst=self._worst_repairs(state, repairs),
        )

    def _repairs(self, draft: _Draft) -> tuple[Move, ...]:
        """What is put right, one after the other, where a branch of the goal `restore` was cut off."""
        space, state = self.followed.space, draft.state
        if not space.task.restore or not self._cut(draft):
            return ()
        return space.chain(state)[1]

    def _worst_repairs(self, state: State, repairs: Sequence[Move]) -> float:
        opened, total = state.key.opened, 0.0
        for move in repairs:
            total += move.minutes + self.posed.task.open_minutes(move.access & ~opened)
            opened |= move.access
        return total

    def _cautions_at(self, draft: _Draft, ending: Ending, units: Sequence[str]) -> tuple[str, ...]:
        """What stands before what is to be done at an end, with the access that it takes; nothing where all is done."""
        library = self.posed.library
        if ending == "restored":
            return ()
        if ending == "continue":
            check = library.checks[self._next_check(draft)]
            return words.check_cautions(library, check.id)
        return words.repair_cautions(library, units, self.posed.symptoms)

    def _next_check(self, draft: _Draft) -> str:
        """The check of other people with which the work goes on: what they would begin with, knowing what is known."""
        helpers = self._helpers(self.followed.space.open(draft.state))
        if draft.onward is None and len(helpers) > 1:
            draft.onward = best_check(self.posed.others, draft.state.weights, draft.state.key.opened)
        return draft.onward if draft.onward in helpers else helpers[0]

    def _ending(self, draft: _Draft, causes: Sequence[Open]) -> tuple[Ending, tuple[str, ...]]:
        """How a branch ends, and what is to be put right, likeliest first."""
        units = by_unit(causes)
        if draft.repaired is not None:
            return "restored", (draft.repaired,)
        if self.posed.task.restore:
            return "open", tuple(move.name for move in self._repairs(draft))
        if self._strange(draft):
            return "open", units
        left = self.followed.space.open(draft.state)
        classes = {self.posed.classes[place] for place in members_of(left)}
        if len(classes) == 1:
            (needed,) = classes
            inside = {
                self.posed.library.causes[one].item or one if one in self.posed.library.causes else one
                for one in needed
            }
            return "found", tuple(unit for unit in units if unit in inside)
        return ("continue" if self._helpers(left) else "open"), units

    def _strange(self, draft: _Draft) -> bool:
        """Whether an answer came that no suspect gives: nothing is found by it, whatever is likeliest among them."""
        return self._cut(draft) and self.followed.space.strange(draft.state)

    def _helpers(self, left: int) -> tuple[str, ...]:
        """Checks of other people that tell the hypotheses left apart, most telling first."""
        task, mine = self.posed.others, {move.name for move in self.posed.task.moves}
        kinds = {self.posed.others.labels[place] for place in members_of(left)}
        if len(kinds) < 2:
            return ()
        parted = {
            move.name: max((truth & left).bit_count() * (left & ~truth).bit_count() for truth in truths)
            for move in task.moves
            if move.name not in mine and (truths := [task.truth[row] for row in move.rows])
        }
        return tuple(sorted((name for name, apart in parted.items() if apart), key=lambda name: -parted[name]))

    def _say(self, draft: _Draft, ending: Ending, units: Sequence[str]) -> str:
        library = self.posed.library
        if ending == "restored":
            return "The report is gone. Hand over as the approved manual says."
        if self._strange(draft):
            return STRANGE
        if not units:
            return _fine(draft)
        if ending == "found":
            return f"{words.put_right(library, units)}. Then repeat the operational check."
        if ending == "continue":
            check = library.checks[self._next_check(draft)]
            return f"Continue {_WHERE[check.by]} with: {check.title}."
        if self.posed.task.restore:
            return (
                "This branch is too unlikely to be charted further. Put right one after the other, in this order, "
                "and repeat the operational check each time."
            )
        if self._cut(draft):
            return "This branch is too unlikely to be charted further. Go on from the answers so far without the chart."
        return _untold(len(units), nothing=self._may_be_nothing(draft.state))

    def _may_be_nothing(self, state: State) -> bool:
        """Whether it is open that nothing is wrong."""
        return any(not self.posed.sets[place] for place in members_of(self.followed.space.open(state)))


def _fine(draft: _Draft) -> str:
    """What to do where nothing is to be put right; causes may still be open that were set aside as unlikely."""
    if draft.state.mask.bit_count() == 1:
        return "Nothing is found wrong. Repeat the operational check and hand over as the approved manual says."
    return (
        "Nothing is likely to be wrong, though that is not certain. Repeat the operational check: where the report is "
        "there again, go on without the chart; where it is not, hand over as the approved manual says."
    )


def _untold(units: int, *, nothing: bool) -> str:
    """What to do where several things are open, one of which may be that nothing is wrong."""
    order = "one after the other, likeliest first, and repeat the operational check each time"
    if not nothing:
        return f"No check that is left tells them apart. Put them right {order}."
    put = f"put them right {order}" if units > 1 else "put it right, and repeat it once more"
    return (
        "No check that is left tells whether anything is wrong. Repeat the operational check first: where the report "
        f"is there again, {put}; where it is not, hand over as the approved manual says."
    )


def by_unit(causes: Sequence[Open]) -> tuple[str, ...]:
    """The units (items, or causes without one) of some causes, likeliest first; causes of one item add up."""
    chances: dict[str, float] = {}
    for one in causes:
        unit = one.item or one.cause
        chances[unit] = chances.get(unit, 0.0) + one.probability
    return tuple(sorted(chances, key=lambda unit: -round(chances[unit], 12)))


_WHERE = {"crew": "with the crew", "line": "on the line", "shop": "in the shop"}


def _worst(nodes: dict[int, Step | End]) -> float:
    """The longest way through a chart, in minutes."""
    known: dict[int, float] = {}

    def longest(number: int) -> float:
        if number not in known:
            node = nodes[number]
            if isinstance(node, End):
                known[number] = node.worst
            else:
                known[number] = node.minutes + max((longest(one.to) for one in node.exits), default=0.0)
        return known[number]

    return longest(1)
