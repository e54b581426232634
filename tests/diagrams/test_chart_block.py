"""A step's exits lead to ends with the same words once, and an end says what is found or what stays open."""

from __future__ import annotations

from faultree.diagrams.chart_block import end_words, ways
from faultree.strategy.chart.value import Chart, End, Exit, Open, Step
from tests.diagrams.small import door

UNIT = "door/motor"


def end(number: int, ending: str, units: tuple[str, ...], *opens: tuple[str, float]) -> End:
    causes = tuple(Open(name, UNIT if name == "door/motor-dead" else None, share) for name, share in opens)
    return End(number, ending, units, causes, (), (), 0.1, "say")  # type: ignore[arg-type]  # endings by name


def exits(*numbers: int) -> tuple[Exit, ...]:
    return tuple(Exit(f"a{number}", f"Answer {number}", 0.25, number) for number in numbers)


def chart(*ends: End) -> Chart:
    step = Step(
        1,
        "check",
        "door/listen",
        "listen",
        "Does it hum?",
        "line",
        1.0,
        (),
        (),
        1.0,
        (),
        exits(*(one.number for one in ends)),
    )
    nodes: dict[int, Step | End] = {1: step, **{one.number: one for one in ends}}
    return Chart((), "item", (), 1.0, 1.0, 1.0, 1.0, 0.0, "", nodes)


def test_answers_with_the_same_end_share_an_exit() -> None:
    made = chart(end(2, "found", (UNIT,)), end(3, "open", (UNIT, "door/fuse")), end(4, "found", (UNIT,)))
    root = made.root
    assert isinstance(root, Step)
    found = ways(made, root)
    assert [way.words for way in found] == ["Answer 2 / Answer 4", "Answer 3"]
    assert [way.probability for way in found] == [0.5, 0.25]


def test_an_end_says_what_to_replace() -> None:
    assert end_words(door(), end(2, "found", (UNIT,))) == "Replace or repair door motor"


def test_an_end_says_what_stays_open_and_counts_what_is_unlikely() -> None:
    said = end_words(
        door(),
        end(
            2,
            "open",
            (UNIT, "door/fuse", "door/jammed"),
            ("door/motor-dead", 0.7),
            ("door/fuse", 0.3),
            ("door/jammed", 0.001),
        ),
    )
    assert said == "Still open: door motor (70 %); fuse blown (30 %); and 1 more"


def test_a_report_that_is_gone_ends_the_chart() -> None:
    assert end_words(door(), end(2, "restored", ())) == "The report is gone"
