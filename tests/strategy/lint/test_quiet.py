"""Silences need a rule, a reason and something to silence; errors are never silenced."""

from __future__ import annotations

import pytest

from faultree.strategy.lint.table import RULES
from tests.strategy.lint.small import PUMP, after, everything, pump

BARE = ("  gauge: {title: gauge, manual: PM 2}", "  gauge: {title: gauge}")
LINE = PUMP.splitlines().index(BARE[0]) + 1
RULES_IN_WORDS = ", ".join([one.name for one in RULES if one.level != "error"])


def quiet(written: str) -> tuple[str, str]:
    """The gauge without its manual, and with `x-quiet`."""
    return BARE[0], f"  gauge: {{title: gauge, x-quiet: {written}}}"


def test_without_a_silence_the_finding_is_told() -> None:
    assert everything(pump()) == []
    assert everything(pump(BARE)) == [
        f"{LINE} no-manual: item 'gauge' has no reference to the manual; add 'manual: ...'"
    ]


def test_a_silence_with_a_reason_is_heard() -> None:
    assert everything(pump(quiet("{no-manual: it is only a gauge}"))) == []


def test_the_head_of_a_file_silences_for_all_of_it() -> None:
    """And for no other file."""
    head = ("title: A pump\n", "title: A pump\nx-quiet: {no-manual: an invented pump}\n")
    assert everything(pump(BARE, head)) == []
    other = "faultree: 1\ntitle: Other\nitems:\n  b: {title: b}\ncauses:\n  c: {title: c, item: b, probability: 0.1}\n"
    found = [one.partition(":")[0] for one in everything(pump(BARE, head, other=other))]
    assert found == ["4 no-manual", "6 unreachable"]


@pytest.mark.parametrize("where", ["rust", "worn"])
def test_a_silence_at_either_of_two_causes_is_enough(where: str) -> None:
    """Which of the two is named depends on their order alone."""
    reason = "x-quiet: {same-effect: both are seen only on the bench}"
    rust = f"rust: {{title: rust, item: pump, probability: 0.1{', ' + reason if where == 'rust' else ''}}}"
    changes = [after("causes", rust), ("lost_if: [worn, leak]", "lost_if: [worn, leak, rust]")]
    if where == "worn":
        changes.append(("item: pump, probability: 0.02}", f"item: pump, probability: 0.02, {reason}}}"))
    assert everything(pump(*changes)) == []


@pytest.mark.parametrize(
    ("written", "message"),
    [
        ("yes", "'x-quiet' of item 'gauge' silences no rule; write 'x-quiet: {rule: reason}', or remove it"),
        ("[no-manual]", "'x-quiet' of item 'gauge' silences no rule; write 'x-quiet: {rule: reason}', or remove it"),
        (
            "{no-manul: it is a gauge}",
            "'x-quiet' of item 'gauge' names the unknown rule 'no-manul'; did you mean 'no-manual'?",
        ),
        (
            "{qqq: it is a gauge}",
            f"'x-quiet' of item 'gauge' names the unknown rule 'qqq'; the rules are {RULES_IN_WORDS} and undecided",
        ),
        *[
            (
                f"{{no-manual: {reason}}}",
                (
                    "'x-quiet' of item 'gauge' silences 'no-manual' without a reason;"
                    " write why, as in 'no-manual: both valves share one connector'"
                ),
            )
            for reason in ("", "''", "' - '", "12", "[so]")
        ],
        (
            "{answers-gap: never mind}",
            "'x-quiet' of item 'gauge' names 'answers-gap', which is an error; mend what is wrong instead",
        ),
    ],
)
def test_a_silence_that_is_wrong_silences_nothing(written: str, message: str) -> None:
    assert everything(pump(quiet(written))) == [
        f"{LINE} quiet: {message}",
        f"{LINE} no-manual: item 'gauge' has no reference to the manual; add 'manual: ...'",
    ]


def test_a_silence_of_nothing_is_told() -> None:
    idle = (
        "  gauge: {title: gauge, manual: PM 2}",
        "  gauge: {title: gauge, manual: PM 2, x-quiet: {no-manual: none}}",
    )
    assert everything(pump(idle)) == [
        f"{LINE} idle-quiet: 'x-quiet' of item 'gauge' silences 'no-manual', which finds nothing there; remove it"
    ]


def test_a_silence_below_that_of_the_file_is_not_idle() -> None:
    """Both apply; neither is blamed for the other."""
    head = ("title: A pump\n", "title: A pump\nx-quiet: {no-manual: an invented pump}\n")
    assert everything(pump(quiet("{no-manual: it is only a gauge}"), head)) == []


def test_a_silence_at_an_answer_or_an_example_has_no_meaning() -> None:
    line = PUMP.splitlines().index("  outlet:") + 1
    answer = ("when: flow}", "when: flow, x-quiet: {no-manual: so}}")
    assert everything(pump(answer)) == [
        f"{line} quiet: 'x-quiet' stands at answer 'full' of check 'outlet'; write it at the check"
    ]
    example = ("    symptom: no-flow\n", "    symptom: no-flow\n    x-quiet: {example: so}\n")
    line = PUMP.splitlines().index("  - title: the pump is seized") + 1
    assert everything(pump(example)) == [
        (
            f"{line} quiet: 'x-quiet' stands at the example “the pump is seized”;"
            " remove it: what an example claims must hold"
        )
    ]


def test_an_entry_is_known_by_its_kind_and_id() -> None:
    """An item and a check of the same id are two places."""
    both = [
        ("  gauge: {title: gauge, manual: PM 2}", "  gauge: {title: gauge, x-quiet: {no-manual: it is only a gauge}}"),
        after("checks", "gauge: {title: look into the gauge, reads: low}"),
    ]
    (found,) = everything(pump(*both))
    assert "check 'gauge' has no reference" in found
