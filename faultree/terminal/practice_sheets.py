"""Sheets about practice: a learner's progress, a class, and the answer key of an exercise."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from faultree.base.words import listing, minutes
from faultree.library.model import Library
from faultree.practice.feedback import Mistake
from faultree.terminal.look import Page, text, title
from faultree.terminal.parts import LEVEL_STYLES, heading, indented, rows
from faultree.terminal.practice_screens import outcome_line

if TYPE_CHECKING:
    from faultree.journal.records import Run
    from faultree.practice.key import AnswerKey, KeyStep
    from faultree.practice.schedule import Next

LATEST = 12
"""So many of the latest runs are listed."""

OFTEN = 3
"""So many habits are named."""


def draw_progress(
    library: Library, runs: Sequence[Run], systems: Mapping[str, tuple[int, float]], following: Next, page: Page
) -> RenderableType:
    """Marks over time, minutes against the best strategy, systems and habits, and what comes next."""
    return Group(*_progress(library, runs, systems, following, page))


def _progress(
    library: Library, runs: Sequence[Run], systems: Mapping[str, tuple[int, float]], following: Next, page: Page
) -> Iterator[RenderableType]:
    yield heading("Practice so far", page, _runs(len(runs)))
    if runs:
        yield _latest(library, runs[-LATEST:], page)
        if len(runs) > LATEST:
            yield indented(text(_trend(runs)))
        yield Text("By system, weakest first", "bold")
        yield rows(_systems(library, systems), first=5)
        yield from _habits(runs)
    else:
        yield text("No run has a mark yet.")
    symptom = library.symptoms[following.symptom]
    yield Text("Next", "bold")
    yield indented(Text.assemble(title(symptom.title), text(f" ({following.why}): faultree practice --next")))


def _trend(runs: Sequence[Run]) -> str:
    """How the latest runs compare with those before: mean marks, and minutes against the best strategy's."""
    (before, slow), (now, fast) = (_means(some) for some in (runs[:-LATEST], runs[-LATEST:]))
    return (
        f"Mean mark {before:.0f} in the {_runs(len(runs) - LATEST)} before, {now:.0f} in these {LATEST}; "
        f"{slow:.1f} and {fast:.1f} times the minutes of the best strategy."
    )


def _means(runs: Sequence[Run]) -> tuple[float, float]:
    spent, best = (sum(float(str(run.summary.get(key, 0))) for run in runs) for key in ("minutes", "reference_minutes"))
    return sum(run.mark or 0.0 for run in runs) / len(runs), spent / best if best else 0.0


def _forgotten(summaries: Sequence[Mapping[str, Any]]) -> str:
    """How much of what was still possible was left out where it was named; empty where nothing was."""
    named, left_out = (sum(int(one.get(key, 0)) for one in summaries) for key in ("named", "left_out"))
    total = named + left_out
    return f"left out {left_out} of {total} that were still possible" if total else ""


def _runs(count: int) -> str:
    return "1 run" if count == 1 else f"{count} runs"


def _systems(library: Library, systems: Mapping[str, tuple[int, float]]) -> Iterator[tuple[str, Text]]:
    for name, (count, mean) in sorted(systems.items(), key=lambda one: one[1][1]):
        known = library.systems.get(name)
        yield f"{mean:4.0f}", text(f"{known.title if known else name} ({_runs(count)})")


def _latest(library: Library, runs: Sequence[Run], page: Page) -> RenderableType:
    if page.spoken:
        return Group(*(text(_spoken_run(library, run)) for run in runs))
    table = Table.grid(padding=(0, 1, 0, 0), expand=True)
    table.add_column(width=3, justify="right")
    table.add_column(width=10)
    table.add_column(ratio=1, overflow="fold")
    table.add_column(width=4, justify="right")
    for _ in range(2):
        table.add_column(width=11, justify="right")
    table.add_row(*(Text(one, "dim") for one in ("run", "day", "exercise", "mark", "took", "the best")))
    for run in runs:
        known = library.symptoms.get(run.symptom)
        table.add_row(
            Text(str(run.id), "dim"),
            run.started[:10],
            Text.assemble(title(known.title if known else run.symptom), text(f" ({_kept_how(run)})", "dim")),
            Text(f"{run.mark:.0f}", "bold"),
            *_times(run),
        )
    return indented(table)


def _times(run: Run) -> tuple[str, str]:
    took, best = (float(str(run.summary.get(key, 0))) for key in ("minutes", "reference_minutes"))
    return minutes(took), minutes(best)


def _kept_how(run: Run) -> str:
    """Level, mode and, unless the symptom was put right, how a run ended, as far as that was kept."""
    summary = {"ending": "restored", **run.summary, "mode": run.mode}
    return _how(summary) if "level" in summary else run.mode


def _spoken_run(library: Library, run: Run) -> str:
    known = library.symptoms.get(run.symptom)
    name = known.title if known else run.symptom
    took, best = _times(run)
    return f"Run {run.id}, {run.started[:10]}: {name}, {_kept_how(run)}, mark {run.mark:.0f}, {took}, the best {best}"


def _habits(runs: Sequence[Run]) -> Iterator[RenderableType]:
    counted: Counter[str] = Counter()
    for run in runs:
        found = run.summary.get("mistakes")
        counted.update(found if isinstance(found, list) else [])
    if counted:
        yield Text("Most frequent mistakes", "bold")
        known = [(name, count) for name, count in _gravest(counted) if name in Mistake.__members__][:OFTEN]
        yield rows(((f"{count:>3}", title(Mistake[name])) for name, count in known), first=4)
    forgotten = _forgotten([run.summary for run in runs])
    if forgotten:
        yield text(f"Asked what was still possible, you {forgotten}.")


def _gravest(counted: Counter[str]) -> list[tuple[str, int]]:
    """Mistakes with their counts: cautions that were not read before all others, then the most frequent."""
    return sorted(counted.most_common(), key=lambda one: one[0] != Mistake.SKIPPED.name)


def draw_class(library: Library, runs: Sequence[Mapping[str, Any]], page: Page) -> RenderableType:
    """A class on one sheet: one row for each run, then who struggles with what."""
    return Group(*_class(library, runs, page))


def _class(library: Library, runs: Sequence[Mapping[str, Any]], page: Page) -> Iterator[RenderableType]:
    yield heading("Class", page, _runs(len(runs)))
    order = sorted(runs, key=lambda one: (str(one["learner"]), str(one["symptom"])))
    yield from (text(_spoken_row(library, run)) for run in order) if page.spoken else [_class_table(library, order)]
    yield Text("Mistakes", "bold")
    for learner in sorted({str(run["learner"]) for run in runs}):
        counted = Counter(name for run in runs if str(run["learner"]) == learner for name in run["mistakes"])
        said = listing([f"{Mistake[name]} ({count})" for name, count in _gravest(counted)[:OFTEN]]) or "none"
        forgotten = _forgotten([run for run in runs if str(run["learner"]) == learner])
        said = f"{said}; {forgotten}" if forgotten else said
        yield rows([(text(learner or "(no name)"), text(said))], first=12)


def _spoken_row(library: Library, run: Mapping[str, Any]) -> str:
    who, what = run["learner"] or "no name", library.symptoms[run["symptom"]].title
    return (
        f"{who}: {what}, {_how(run)}, mark {run['mark']:.0f}, {minutes(run['minutes'])}, "
        f"the best {minutes(run['reference_minutes'])}, {len(run['needless'])} needless"
    )


def _class_table(library: Library, runs: Sequence[Mapping[str, Any]]) -> RenderableType:
    table = Table.grid(padding=(0, 1, 0, 0), expand=True)
    table.add_column(width=12, overflow="fold")
    table.add_column(ratio=1, overflow="fold")
    for width in (4, 11, 11, 8):
        table.add_column(width=width, justify="right")
    table.add_row(*(Text(one, "dim") for one in ("who", "exercise", "mark", "took", "the best", "needless")))
    for run in runs:
        table.add_row(
            text(str(run["learner"]) or "(no name)"),
            Text.assemble(title(library.symptoms[run["symptom"]].title), text(f" ({_how(run)})", "dim")),
            Text(f"{run['mark']:.0f}", "bold"),
            minutes(run["minutes"]),
            minutes(run["reference_minutes"]),
            str(len(run["needless"])),
        )
    return indented(table)


def _how(run: Mapping[str, Any]) -> str:
    """Level, mode and, unless the symptom was put right, how a run ended."""
    ended = "" if run["ending"] == "restored" else f", {run['ending']}"
    return f"level {run['level']}, {run['mode']}{ended}"


def draw_key(key: AnswerKey, page: Page) -> RenderableType:
    """The answer of an exercise, for the instructor: what is hidden, and how the best strategy finds it."""
    return Group(
        heading("Answer key", page),
        rows(((Text(label, "dim"), text(words)) for label, words in key.facts), first=9),
        Text("The best strategy", "bold"),
        rows(
            ((Text(f"{number:>2}", "bold"), _key_step(step)) for number, step in enumerate(key.steps, 1)),
            first=2,
        ),
        text(key.notice, "yellow"),
    )


def _key_step(step: KeyStep) -> RenderableType:
    cares = (
        Text.assemble(Text(one.level.upper(), LEVEL_STYLES[one.level]), text(f" {one.text}")) for one in step.cautions
    )
    head = outcome_line(step.title, step.outcome, minutes(step.minutes))
    return Group(*cares, head, *(text(one) for one in step.sentences))
