"""The page of an analysis: titles for ids, tables cut short on purpose, and words for every figure."""

from __future__ import annotations

import pytest

from faultree.walk.analysis_page import page_of, remedy
from faultree.walk.prompt import NOTICE
from tests.strategy.matrices import pump
from tests.walk.analyses import SINGLES, analysis, measure, weighed

PAIR = weighed(0.0002, "pump/worn", "pump/leak")


def test_sets_are_listed_by_size_with_titles() -> None:
    page = page_of(analysis(sets=(*SINGLES, PAIR)))
    assert [(table.order, len(table.lines), table.more) for table in page.sets] == [(1, 4, 0), (2, 1, 0)]
    assert page.sets[1].lines[0].titles == ("pump worn", "pipe leaking")
    assert page.notice == NOTICE
    assert page.situation == "the pump running"


def test_long_lists_are_cut_short_unless_all_is_asked_for() -> None:
    """Six pairs and three triples are enough to see the pattern; of larger sets the number and the largest."""
    pairs = tuple(weighed(0.001 / at, *PAIR[0]) for at in range(1, 21))
    four = weighed(2e-8, "pump/worn", "pump/seized", "pump/leak", "pump/low")
    found = analysis(sets=(*pairs, four, four))
    short, full = page_of(found), page_of(found, everything=True)
    assert [(one.order, len(one.lines), one.more) for one in short.sets] == [(2, 6, 14), (4, 0, 2)]
    assert short.sets[0].at_most == pytest.approx(0.001 / 7)
    assert short.sets[1].at_most == 2e-8
    assert [(one.order, len(one.lines), one.more) for one in full.sets] == [(2, 20, 0), (4, 2, 0)]


def test_a_table_is_not_cut_to_save_a_line_or_two() -> None:
    pairs = tuple(weighed(0.001 / at, *PAIR[0]) for at in range(1, 9))
    assert len(page_of(analysis(sets=pairs)).sets[0].lines) == 8


def test_what_the_list_does_not_hold_is_said_with_its_bound() -> None:
    page = page_of(analysis(sets=(PAIR,), orders={2: 1000, 3: 7}, cut_off="999 sets less likely", left_out=3e-7))
    assert [(one.order, len(one.lines), one.more) for one in page.sets] == [(2, 1, 0)]
    assert page.left_out == (
        "Not listed: 999 sets less likely. The probability that this comes from those alone is at most 3.0e-7."
    )


def test_a_probability_says_whether_it_is_exact() -> None:
    assert page_of(analysis()).probability == "Probability that the faults of this library cause it: 0.049 (exact)."
    bounds = page_of(analysis(upper=0.06, bound=0.02)).probability
    assert bounds == (
        "Probability that the faults of this library cause it: between 0.049 and 0.06 (bounds). "
        "Each “given” may be off by up to 2.0 %."
    )


def test_importance_keeps_its_order_and_its_figures() -> None:
    found = analysis()
    page = page_of(found)
    assert [name for name, _ in page.importance] == ["pump worn", "pipe leaking", "gauge stuck low"]
    assert tuple(one for _, one in page.importance) == found.importance.rows
    many = analysis(rows=tuple(measure("pump/worn", 0.1) for _ in range(40)))
    assert (len(page_of(many).importance), page_of(many).more_importance) == (10, 30)
    assert page_of(many, everything=True).more_importance == 0


def test_faults_that_keep_the_symptom_away_are_counted() -> None:
    """Below `not`, `none` or `one_of` a fault may hinder; with coherent logic nothing is said."""
    assert page_of(analysis()).hindering == ""
    rows = (measure("pump/worn", 0.3), measure("pump/low", 0.1, birnbaum=-0.2)._replace(sets=0, order=0))
    page = page_of(analysis(rows=rows))
    assert page.hindering == (
        "Less likely with 1 other fault: such a fault prevents this, hides it, or keeps an item from failing in a way "
        "that is listed here; --all names them."
    )
    assert [name for name, _ in page.importance] == ["pump worn"]
    assert (
        "with “gauge stuck low” or “gauge stuck low”: such"
        in page_of(analysis(rows=(*rows, rows[1])), everything=True).hindering
    )


def test_a_fault_that_stands_in_no_set_is_not_listed() -> None:
    """Its figures are those of a bystander; unless the sets are not all known."""
    rows = (measure("pump/worn", 0.3), measure("pump/low", 0.1, birnbaum=1e-9)._replace(sets=0, order=0))
    assert [name for name, _ in page_of(analysis(rows=rows)).importance] == ["pump worn"]
    assert len(page_of(analysis(rows=rows, known=False)).importance) == 2


def test_a_structural_ranking_stands_where_all_likelihoods_are_bands() -> None:
    library = pump(
        ("seized: {title: pump seized, item: pump, probability: 0.01}", "seized: {title: S, likelihood: remote}"),
        ("leak: {title: pipe leaking, probability: 0.01}", "leak: {title: L, likelihood: remote}"),
    )
    mixed = analysis(library=library)
    assert page_of(mixed).structural == ()
    assert page_of(mixed).scale
    assert not page_of(mixed).only_bands
    figures = (measure("pump/seized", 0.5, 0.2), measure("pump/leak", 0.5, 0.7))
    bands = page_of(analysis(library=library, rows=figures))
    assert bands.only_bands
    assert bands.structural == (("L", 0.7), ("S", 0.2))
    assert page_of(analysis()).scale == ""


def test_the_comparison_of_checks_says_what_it_leaves_out() -> None:
    """Single faults come to 1 - 0.97 x 0.99 x 0.99; the rest of the reports comes from faults that act together."""
    rest = 1.0 - (1.0 - 0.97 * 0.99 * 0.99) / 0.06
    assert rest == pytest.approx(0.178, abs=0.001)
    assert page_of(analysis(lower=0.06, upper=0.06)).about_singles == (
        "18 % of the reports come from faults that act together; they are not compared here, and a check that adds "
        "nothing below may be needed for them."
    )
    assert page_of(analysis()).about_singles == ""
    assert "of which there is none here" in page_of(analysis("pump/both", sets=(PAIR,))).about_singles


def test_groups_have_what_would_part_them() -> None:
    (block,) = page_of(analysis()).groups
    assert block.titles == ("pump worn", "pipe leaking")
    assert block.revealed
    assert block.one_item == ""
    assert block.remedy == (
        "Best made observable: “the floor dry” in the situation “the pump running”. "
        "That would tell A from B (0.92 bit)."
    )


def test_a_group_of_one_item_says_so() -> None:
    library = pump(("lost_if: [worn, leak]", "lost_if: [worn]"))
    (block,) = page_of(analysis(library=library, by=("line",))).groups
    assert block.titles == ("pump worn", "pump seized")
    assert block.one_item == "pump"


def test_where_nothing_would_part_them_that_is_said() -> None:
    library = pump()
    assert remedy(library, ("pump/worn", "pump/leak"), None) == (
        "No signal or event of this library differs between them in any of its situations; "
        "only a look at the parts themselves can tell."
    )


def test_checks_that_add_nothing_stand_below_the_one_that_tells_as_much() -> None:
    """Those that are quicker than it stand apart: such a check may still be made first."""
    (group,) = page_of(analysis()).covered
    assert (group.title, group.minutes, group.quicker) == ("listen to the pump", 5.0, False)
    assert group.others == (("listen longer", 20.0),)
    several = (
        "minutes: 9, answers: {a: {text: A, when: {not: turns}}, "
        "b: {text: B, when: {all: [turns, {not: flow}]}}, c: {text: C, when: otherwise}}"
    )
    slow, quick = page_of(analysis(library=pump(("reads: flow, minutes: 2", several)))).covered
    assert slow.title == quick.title == "look at the outlet"
    assert (slow.quicker, slow.others) == (False, (("listen longer", 20.0),))
    assert (quick.quicker, quick.others) == (True, (("listen to the pump", 5.0),))


def test_a_long_list_of_such_checks_is_cut_short() -> None:
    more = "".join(f"\n  more-{at}: {{title: m, situation: running, reads: turns, minutes: 30}}" for at in range(20))
    library = pump(("checks:", f"checks:{more}"))
    (group,) = page_of(analysis(library=library)).covered
    assert (len(group.others), group.more) == (10, 11)
    (group,) = page_of(analysis(library=library), everything=True).covered
    assert (len(group.others), group.more) == (21, 0)


def test_a_line_for_each_team_with_its_fractions() -> None:
    """The crew first, then whoever comes besides; with checks of some people only, one line."""
    teams = page_of(analysis(by=None)).teams
    assert [one.who for one in teams] == ["the crew", "the crew and the line", "the crew, the line and the shop"]
    assert [one.detected for one in teams] == pytest.approx([0.2, 0.8, 0.8])
    assert teams[1].isolated == pytest.approx((0.25, 1.0, 1.0))
    assert [one.who for one in page_of(analysis()).teams] == ["the crew and the line"]
