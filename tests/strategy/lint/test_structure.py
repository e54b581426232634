"""What leads nowhere is found with all that only it uses; so are gates in gates in gates."""

from __future__ import annotations

import pytest

from tests.strategy.lint.small import after, found, pump

USE = "; use it or remove it"


def test_nothing_is_found_in_a_file_in_which_all_is_used() -> None:
    for rule in ("unreachable", "unused", "nested-gates"):
        assert found(rule, pump()) == []


def test_a_node_that_nothing_names_is_named_once_with_what_is_below_it() -> None:
    """The mistake is at the top: what only it uses is no mistake of its own."""
    causes = after("causes", "rust: {title: rust, probability: 0.1, manual: PM 1}")
    signals = after(
        "signals",
        "clean: {title: clean, lost_if: [rust]}",
        "bright: {title: bright, follows: {all: [clean, turns]}}",
    )
    assert found("unreachable", pump(causes, signals)) == [
        f"no symptom and no check depends on signal 'bright', nor on 'rust' and 'clean' below it{USE}"
    ]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (after("conditions", "dark: {title: dark}"), "condition 'dark'"),
        (after("causes", "rust: {title: rust, probability: 0.1}"), "cause 'rust'"),
        (("\ncautions:\n", "\nevents:\n  e: {title: e, any: [worn]}\ncautions:\n"), "event 'e'"),
    ],
)
def test_every_kind_of_node_can_lead_nowhere(change: tuple[str, str], message: str) -> None:
    assert found("unreachable", pump(change)) == [f"no symptom and no check depends on {message}{USE}"]


def test_a_condition_that_only_situations_set_leads_nowhere() -> None:
    """To set a fact is not to depend on it."""
    changes = [after("conditions", "dark: {title: dark}"), ("sets: {on: yes}", "sets: {on: yes, dark: yes}")]
    assert found("unreachable", pump(*changes)) == [f"no symptom and no check depends on condition 'dark'{USE}"]


def test_use_by_another_file_is_use() -> None:
    """And the names of other files are written as this file would write them."""
    causes = after("causes", "rust: {title: rust, probability: 0.1}")
    head = "faultree: 1\ntitle: Other\n"
    using = head + "checks:\n  look: {title: look, reads: pump/rust}\n"
    leading = head + "events:\n  e: {title: e, any: [pump/rust]}\n"
    assert found("unreachable", pump(causes, other=using)) == []
    assert found("unreachable", pump(causes, other=leading)) == [
        f"no symptom and no check depends on event 'e', nor on 'pump/rust' below it{USE}"
    ]


def test_what_two_idle_nodes_share_is_named_once() -> None:
    causes = after("causes", "rust: {title: rust, probability: 0.1}")
    signals = after("signals", "one: {title: one, lost_if: [rust]}", "two: {title: two, lost_if: [rust]}")
    assert found("unreachable", pump(causes, signals)) == [
        f"no symptom and no check depends on signal 'one', nor on 'rust' below it{USE}",
        f"no symptom and no check depends on signal 'two'{USE}",
    ]


def test_what_nothing_uses_is_found_by_its_kind() -> None:
    changes = [
        after("items", "pipe: {title: pipe, access: [hatch]}"),
        after("situations", "cold: {title: cold, extends: mild}", "mild: {title: mild}"),
        ("\ncautions:\n", "\naccess:\n  lid: {title: lid}\n  hatch: {title: hatch}\ncautions:\n  hot: {text: Hot.}\n"),
    ]
    assert found("unused", pump(*changes)) == [
        f"no cause belongs to item 'pipe'{USE}",
        f"nothing is seen or checked in situation 'cold'{USE}",
        f"no check and no item needs access 'lid'{USE}",
        f"nothing shows caution 'hot'{USE}",
    ]


NESTED = "; make the inner ones signals or events of their own, with a title"


@pytest.mark.parametrize(
    ("gate", "deep"),
    [
        ("any: [worn, {all: [leak, low]}]", False),
        ("any: [worn, {all: [leak, {not: low}]}]", False),
        ("not: {any: [worn, {all: [leak, low]}]}", False),
        ("any: [worn, {all: [leak, {any: [low, seized]}]}]", True),
        ("any: [worn, {not: {all: [leak, {none: [low, seized]}]}}]", True),
        ("at_least: {count: 1, of: [worn, {one_of: [leak, {all: [low, seized]}]}]}", True),
    ],
)
def test_one_gate_in_another_is_the_most(gate: str, deep: bool) -> None:
    """Negation is no gate that would need a word of its own."""
    event = ("\ncautions:\n", f"\nevents:\n  e: {{title: e, {gate}}}\ncautions:\n")
    said = [f"event 'e' has gates nested more than one level deep{NESTED}"] if deep else []
    assert found("nested-gates", pump(event)) == said


def test_signals_and_answers_are_looked_at_as_well() -> None:
    deep = "{any: [worn, {all: [leak, {any: [low, seized]}]}]}"
    assert found("nested-gates", pump(("lost_if: [low]", f"lost_if: [{deep}]"))) == [
        f"signal 'shown' has gates nested more than one level deep{NESTED}"
    ]
    assert found("nested-gates", pump(("when: flow", f"when: {deep}"))) == [
        f"check 'outlet' has gates nested more than one level deep{NESTED}"
    ]


def test_otherwise_adds_no_gate() -> None:
    """The author wrote a word, not the negation of all other answers."""
    assert found("nested-gates", pump(("when: flow", "when: {any: [flow, {all: [worn, leak]}]}"))) == []
