"""Drafts simplify as they are built, and equal ones are one."""

from __future__ import annotations

from faultree.logic.draft import FALSE, TRUE, Drafts


def test_what_is_settled_is_left_out_and_reasons_are_kept() -> None:
    drafts = Drafts()
    a, b, on = drafts.cause("a"), drafts.cause("b"), drafts.house("on", True)
    assert drafts.any([FALSE, a]) == a
    assert drafts.any([a, on]) == on
    assert drafts.all([FALSE, a]) == FALSE
    assert drafts.all([TRUE, a]) == a
    assert drafts.nodes[drafts.all([on, a, b])].inputs == (on, a, b)
    assert drafts.nodes[drafts.all([on, TRUE])].inputs == (on,)


def test_an_undescribed_gate_is_merged_into_one_of_its_kind_and_a_described_one_is_not() -> None:
    drafts = Drafts()
    a, b, c = map(drafts.cause, "abc")
    inner = drafts.any([a, b])
    assert drafts.nodes[drafts.any([inner, c])].inputs == (a, b, c)
    named = drafts.described(inner, "s/e", True, "E")
    assert drafts.nodes[drafts.any([named, c])].inputs == (named, c)


def test_a_cause_that_is_there_and_not_there_settles_a_gate() -> None:
    drafts = Drafts()
    a, gone = drafts.cause("a"), drafts.absent("a")
    assert drafts.all([a, gone]) == FALSE
    assert drafts.any([a, gone]) == TRUE


def test_causes_of_one_item_exclude_each_other() -> None:
    """Open, a relay is not welded: so much need not be said; and it is never both."""
    drafts = Drafts({"open": "relay", "welded": "relay"})
    opened, welded, wire = drafts.cause("open"), drafts.cause("welded"), drafts.cause("wire")
    assert drafts.all([opened, drafts.absent("welded")]) == opened
    assert drafts.all([opened, welded]) == FALSE
    assert drafts.any([drafts.absent("open"), drafts.absent("welded")]) == TRUE
    assert drafts.any([drafts.absent("open"), welded]) == drafts.absent("open")
    assert drafts.nodes[drafts.all([wire, drafts.absent("welded")])].inputs == (wire, drafts.absent("welded"))
    both_absent = drafts.all([drafts.absent("open"), drafts.absent("welded")])
    assert drafts.nodes[both_absent].inputs == (drafts.absent("open"), drafts.absent("welded"))
    assert drafts.nodes[drafts.any([opened, welded])].inputs == (opened, welded)


def test_counting_gates_count_what_is_sure() -> None:
    drafts = Drafts()
    a, b, c = map(drafts.cause, "abc")
    on = drafts.house("on", True)
    assert drafts.at_least(1, [on, a]) == drafts.all([on])
    assert drafts.at_least(2, [on, a, b]) == drafts.all([on, drafts.any([a, b])])
    assert drafts.at_least(3, [FALSE, a, b]) == FALSE
    assert drafts.at_least(2, [FALSE, a, b]) == drafts.all([a, b])
    assert drafts.nodes[drafts.at_least(2, [a, b, c])].number == 2


def test_the_value_while_nothing_is_wrong() -> None:
    drafts = Drafts()
    a, gone = drafts.cause("a"), drafts.absent("b")
    assert not drafts.usual(a)
    assert drafts.usual(gone)
    assert drafts.usual(drafts.any([a, gone]))
    assert not drafts.usual(drafts.all([a, gone]))
    assert drafts.usual(drafts.one_of([a, gone]))
    assert not drafts.usual(drafts.opposite(drafts.one_of([a, gone])))


def test_equal_drafts_are_one() -> None:
    drafts = Drafts()
    a, b = drafts.cause("a"), drafts.cause("b")
    assert drafts.any([a, b]) == drafts.any([a, b, a])
    assert drafts.any([a, b]) != drafts.any([b, a])  # the author's order is kept
