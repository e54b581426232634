"""A troubleshooting chart as a page to follow: its head, and for each number what to do and where each answer leads."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from faultree.base.words import listing, minutes, percent
from faultree.library.model import Library, Symptom
from faultree.strategy.chart.merge import merged
from faultree.strategy.chart.value import Chart, End, Ending, Exit, Open, Step
from faultree.strategy.chart.words import repair_cautions
from faultree.walk import chart_head, effort, titles
from faultree.walk.chart_blocks import Block, ChartPage, EndBlock, OpenLine, StepBlock, Way
from faultree.walk.chart_facts import Access, accesses, facts_of_check, facts_of_unit
from faultree.walk.chart_head import FAINT
from faultree.walk.chart_trail import trails
from faultree.walk.prompt import NOTICE, CautionLine, Reported
from faultree.walk.scale import bands

LEVELS = ("warning", "caution", "note")
"""The levels of cautions, what stands first first."""

OPEN = 5
"""So many causes that are still open are named at a step; the others are counted."""

UNITS = 3
"""So many units are named beside an answer and in the headline of an end."""

CUT = 1
"""So many causes are named behind an answer where the chart is left."""

STRANGER = "none of the suspects gives this answer"
"""Stands behind an answer that is an error or comes of another fault."""

OTHER = "another fault than these suspects is likelier then"
"""Stands behind an answer that speaks for a fault which the chart does not hold."""

LABELS: Mapping[Ending, str] = {"restored": "Put right", "continue": "Suspect"}
"""What the units of an end are called, where they are not just found."""

HANDED: Mapping[Ending, str] = {"found": "found", "open": "still open", "continue": "suspected"}
"""What a line to hand over calls the units of an end."""

NOT_HERE = "before one of these go on with live advice, as its access and cautions do not stand here"
"""Stands behind what is only counted at an end."""

IF_DONE = " (if done on the way)"
"""Stands behind what has to be undone only where the way led past it."""


def page_of(library: Library, chart: Chart) -> ChartPage:
    """The page of a chart: steps, then one end for each thing to do; what was cut off stands only behind its answer."""
    chart = merged(chart)
    reports = [library.symptoms[name] for name in chart.symptoms]
    systems = [library.systems[name] for name in dict.fromkeys(one.system for one in reports)]
    drawn = _Drawn(library, chart)
    return ChartPage(
        title=listing(one.title for one in reports),
        reported=tuple(
            Reported(one.title, library.situations[one.situation].title if one.situation else "", one.manual, one.note)
            for one in reports
        ),
        proof=chart_head.proof(chart),
        facts=tuple(chart_head.facts(chart)),
        notice=NOTICE,
        use=tuple(chart_head.use(library, chart)),
        authorities=tuple((one.title, one.authority) for one in systems if one.authority),
        scale=bands(library, {one.cause for node in chart for one in chart_head.suspects(node)}),
        blocks=tuple(drawn.block(node) for node in chart if isinstance(node, Step) or not node.cut),
    )


# --- blocks ------------------------------------------------------------------------------------


class _Drawn:
    """The blocks of one chart: what a block says depends on the nodes around it."""

    def __init__(self, library: Library, chart: Chart) -> None:
        self.library = library
        self.chart = chart
        self.trails = trails(chart)

    def block(self, node: Step | End) -> Block:
        return self._step(node) if isinstance(node, Step) else self._end(node)

    def _step(self, step: Step) -> StepBlock:
        library = self.library
        trail = self.trails[step.number]
        access = accesses(library, step, frozenset(trail.opened))
        check = step.action == "check"
        facts = (
            facts_of_check(library, step.target) if check else facts_of_unit(library, self.chart.symptoms, step.target)
        )
        return StepBlock(
            number=step.number,
            come_from=trail.come_from,
            probability=step.probability,
            replaces=not check,
            title=step.title,
            takes=_takes(step, access, (self.library.symptoms[name] for name in self.chart.symptoms)),
            by=step.by,
            cautions=self._cautions(step.cautions),
            facts=(*_access(access), *facts),
            open=self._still(step.open),
            ask=step.ask,
            ways=tuple(self._ways(step)),
            never=self._never(step),
        )

    def _cautions(self, names: Iterable[str]) -> tuple[CautionLine, ...]:
        found = (self.library.cautions[name] for name in dict.fromkeys(names))
        lines = (CautionLine(one.id, one.level, one.text, read=False) for one in found)
        return tuple(sorted(lines, key=lambda line: LEVELS.index(line.level)))

    def _still(self, open_: tuple[Open, ...]) -> OpenLine:
        causes = self.library.causes
        shown = [one for place, one in enumerate(open_[:OPEN]) if place < 2 or one.probability >= FAINT]
        named = tuple((causes[one.cause].title, one.probability) for one in shown)
        return OpenLine(named, len(open_) - len(named))

    def _ways(self, step: Step) -> Iterator[Way]:
        """Where each answer leads; the answers after which one leaves the chart stand together at the end."""
        ways = [self._way(one) for one in step.exits]
        yield from (one for one in ways if one.to is not None)
        leaving = [one for one in ways if one.to is None]
        if len(leaving) > 1:
            why = {one.found for one in leaving}
            found = why.pop() if why in ({STRANGER}, {OTHER}) else ""
            yield Way(" / ".join(one.text for one in leaving), sum(one.probability for one in leaving), None, found)
        else:
            yield from leaving

    def _way(self, one: Exit) -> Way:
        node = self.chart.nodes[one.to]
        if isinstance(node, Step):
            return Way(one.text, one.probability, one.to, "")
        if node.strange:
            return Way(one.text, one.probability, None, STRANGER)
        if node.doubted:
            return Way(one.text, one.probability, None, OTHER)
        if node.cut:
            likeliest = ", ".join(
                f"{words} {percent(chance)}" for words, chance in self._still(node.causes).named[:CUT]
            )
            return Way(one.text, one.probability, None, f"likeliest: {likeliest}" if likeliest else "")
        return Way(one.text, one.probability, one.to, self._found(node))

    def _never(self, step: Step) -> tuple[str, ...]:
        if step.action != "check":
            return ()
        possible = {one.answer for one in step.exits}
        return tuple(one.text for one in self.library.checks[step.target].answers if one.id not in possible)

    # --- ends ----------------------------------------------------------------------------------

    def _end(self, end: End) -> EndBlock:
        return EndBlock(
            number=end.number,
            come_from=self.trails[end.number].come_from,
            probability=end.probability,
            headline=self._headline(end),
            facts=tuple(self._end_facts(end)),
            cautions=self._cautions(self._cautions_at(end)),
            do=end.say,
            afterwards=tuple(self._afterwards(end)),
            handover=self._handover(end),
        )

    def _found(self, end: End) -> str:
        match end.ending:
            case "restored":
                return "the symptom is gone"
            case "continue":
                return end.say.partition(" with: ")[0].lower()
            case _:
                return self._units(end) or f"nothing is {'likely to be' if end.causes else 'found'} wrong"

    def _units(self, end: End) -> str:
        """What is to be put right in a few words: all of it where it is found, one of it where it is open."""
        named = [titles.unit_title(self.library, unit) for unit in end.units]
        if end.ending == "found" or len(named) <= UNITS:
            return listing(named, "and" if end.ending == "found" else "or")
        return f"{', '.join(named[: UNITS - 1])} or {len(named) - UNITS + 1} more"

    def _headline(self, end: End) -> str:
        found = self._found(end)
        match end.ending:
            case "found":
                return f"Found: {found}"
            case "open":
                return f"Still open: {found}"
            case "restored":
                return f"The symptom is gone; put right: {self._named(end)}"
            case _:
                return end.say.removesuffix(".")

    def _named(self, end: End) -> str:
        return listing(titles.unit_title(self.library, unit) for unit in end.units)

    def _end_facts(self, end: End) -> Iterator[tuple[str, str]]:
        library = self.library
        likely, shown = _by_unit(end.causes), set()
        units = self._worth_naming(end)
        for unit in units:
            item = library.items.get(unit)
            place, manual = item.place if item else "", self._manual(unit)
            shown.add(manual)
            chance = percent(likely.get(unit, 0.0))
            words = _joined(titles.unit_title(library, unit), chance, place, manual or "no manual reference")
            yield LABELS.get(end.ending, "Item"), words
        if len(units) < len(end.units):
            more = f"{len(end.units) - len(units)} more, each below {percent(FAINT)}"
            yield LABELS.get(end.ending, "Item"), more if end.ending == "continue" else f"{more}; {NOT_HERE}"
        still = self._still(end.causes)
        if still.named:
            yield "Cause", open_words(still)
        opens = [f"{library.access[name].title} ({minutes(library.access[name].minutes)})" for name in self._opens(end)]
        if opens and end.ending in ("found", "open"):
            yield "Access", listing(opens)
        others = [one for one in end.manual if one not in shown] if len(units) == len(end.units) else []
        if others:
            yield "Manual", listing(others)

    def _worth_naming(self, end: End) -> tuple[str, ...]:
        """The units of an end, without those that are faint where several are open."""
        likely = _by_unit(end.causes)
        keep = end.ending in ("found", "restored")
        return tuple(one for place, one in enumerate(end.units) if keep or place < 2 or likely.get(one, 0.0) >= FAINT)

    def _cautions_at(self, end: End) -> tuple[str, ...]:
        """What stands before what is named at an end; for what is only counted nobody goes anywhere."""
        units = self._worth_naming(end)
        if end.ending == "continue" or len(units) == len(end.units):
            return end.cautions
        return repair_cautions(self.library, units, self.chart.symptoms)

    def _opens(self, end: End) -> tuple[str, ...]:
        """The access that putting right what is named takes and that was not opened on every way here."""
        sure, items = self.trails[end.number].sure, self.library.items
        needed = (name for unit in self._worth_naming(end) if unit in items for name in items[unit].access)
        return tuple(dict.fromkeys(name for name in needed if name not in sure))

    def _afterwards(self, end: End) -> Iterator[str]:
        """What has to be undone when the work is over: locks, pins and tags first, then what was opened."""
        library, trail = self.library, self.trails[end.number]
        opens = () if end.ending in ("restored", "continue") else self._opens(end)
        own = () if end.ending == "continue" else self._cautions_at(end)
        sure = trail.sure.union(own, opens)
        for name in dict.fromkeys((*trail.cautions, *own)):
            if library.cautions[name].afterwards:
                yield library.cautions[name].afterwards + ("" if name in sure else IF_DONE)
        for name in dict.fromkeys((*trail.opened, *opens)):
            access = library.access[name]
            words = access.afterwards or f"close what was opened: {access.title}"
            yield words + ("" if name in sure else IF_DONE)

    def _handover(self, end: End) -> str:
        """The line for whoever goes on: the report, the answers, what was found and where the manual speaks of it."""
        if end.ending == "restored":
            return "; ".join((self._answers(end), f"put right {self._named(end)}; the symptom is gone", *end.manual))
        likely = _by_unit(end.causes)
        units = self._worth_naming(end)
        named = [f"{titles.unit_title(self.library, one)} ({percent(likely.get(one, 0.0))})" for one in units]
        if len(units) < len(end.units):
            named.append(f"{len(end.units) - len(units)} more")
        found = listing(named, "and" if end.ending == "found" else "or")
        answers = self._answers(end)
        manual = end.manual if len(units) == len(end.units) else dict.fromkeys(map(self._manual, units))
        return "; ".join(filter(None, (answers, f"{HANDED[end.ending]}: {found}" if named else "", *manual)))

    def _manual(self, unit: str) -> str:
        item = self.library.items.get(unit)
        return item.manual if item else self.library.causes[unit].manual

    def _answers(self, end: End) -> str:
        """The chart, and the answers by number where only one way leads here."""
        trail, answers = self.trails[end.number], "the steps made and their answers"
        if trail.answers is not None:
            answers = ", ".join(f"{number} {words}" for number, words in trail.answers) or "no step made"
        return f"chart {' '.join(self.chart.symptoms)}; {answers}"


def _by_unit(causes: Iterable[Open]) -> dict[str, float]:
    """P(unit at fault): causes of one item exclude each other, so they add up."""
    found: dict[str, float] = {}
    for one in causes:
        found[one.item or one.cause] = found.get(one.item or one.cause, 0.0) + one.probability
    return found


def _takes(step: Step, access: tuple[Access, ...], reports: Iterable[Symptom]) -> str:
    extra = sum(one.minutes for one in access if one.new)
    retest = sum(one.retest for one in reports) if step.action == "replace" else 0.0
    return effort.words(effort.Effort(step.minutes - extra - retest, extra, retest))


def _access(access: tuple[Access, ...]) -> Iterator[tuple[str, str]]:
    new = [f"{one.title} ({minutes(one.minutes)})" for one in access if one.new]
    done = [one.title for one in access if not one.new]
    if new:
        yield "Access", listing(new)
    if done:
        yield "Access", f"done already: {listing(done)}"


def _joined(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


def open_words(line: OpenLine) -> str:
    """What is still open, in words.

    >>> open_words(OpenLine((("pump worn", 0.6), ("line broken", 0.3)), 2))
    'pump worn 60 %, line broken 30 % and 2 more'
    """
    named = ", ".join(f"{words} {percent(probability)}" for words, probability in line.named)
    return f"{named} and {line.more} more" if line.more else named
