"""The sheet of an analysis: within the page at any width, complete, and signed with the notice."""

from __future__ import annotations

import pytest

from faultree.library.load import load_texts
from faultree.strategy.analysis import Analysis, analyse
from faultree.terminal.analysis_sheet import FIGURES, draw_analysis
from faultree.terminal.look import Page
from faultree.walk.analysis_page import page_of
from faultree.walk.headlines import headlines
from faultree.walk.prompt import NOTICE
from tests.strategy.matrices import pump
from tests.terminal.drawn import as_shown, cells
from tests.walk.analyses import SINGLES, analysis, measure, weighed

PAIR = weighed(0.0002, "pump/worn", "pump/leak")
FOUR = weighed(2e-8, "pump/worn", "pump/seized", "pump/leak", "pump/low")


def drawn(
    found: Analysis, width: int = 80, *, everything: bool = False, plain: bool = True, spoken: bool = False
) -> str:
    page = page_of(found, everything=everything)
    return as_shown(draw_analysis(page, Page(width, plain, spoken)), width=width, plain=plain)


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("plain", [True, False])
@pytest.mark.parametrize("width", [40, 59, 80, 120])
def test_the_sheet_fits_the_page_and_says_who_decides(width: int, plain: bool) -> None:
    """No line runs over, and nothing is cut off by a table that has too little room."""
    found = analysis(sets=(*SINGLES, PAIR, FOUR))
    text = drawn(found, width, plain=plain)
    assert all(cells(line) <= width for line in text.splitlines())
    assert NOTICE in flat(text)
    for sentence in headlines(found):
        assert sentence in flat(text).replace(" - ", " ")
    for words in ("Pump worn", "0.02", "What matters most", "0.049 (exact)", "Birnbaum", "RAW", "revealed"):
        assert words in text
    assert "…" not in text


def test_sentences_come_first_then_tables() -> None:
    text = drawn(analysis(sets=(*SINGLES, PAIR)))
    places = [
        text.index(words)
        for words in (
            "4 single faults cause this",
            "Single faults that cause it",
            "Pairs of faults that cause it only together",
            "What matters most",
            "What the checks can tell apart",
            "Faults that no check made by the crew or the line separates",
            "Faults that no check made by the crew or the line reveals",
            "Checks that add nothing",
        )
    ]
    assert places == sorted(places)


def test_a_small_figure_of_the_sheet_explains_how_small_figures_are_written() -> None:
    """The largest of them, as it stands there; where all are large, nothing is said."""
    assert "Small figures: 2.5e-6 means 0.0000025." in drawn(
        analysis(sets=(weighed(2.5e-6, *PAIR[0]), weighed(1e-9, "pump/worn", "pump/low")))
    )
    assert "Small figures" not in drawn(analysis())


def test_a_cause_that_was_only_there_by_coincidence_is_left_to_the_whole_list() -> None:
    """It belongs to sets that hardly count; however likely it is by itself, it matters little here."""
    rows = (measure("pump/worn", 0.4), measure("pump/leak", 0.2, fussell_vesely=0.0001))
    matters = drawn(analysis(rows=rows)).split("What matters most")[1]
    assert "Pipe leaking   " not in matters
    assert "and 1 more; --all lists them" in matters
    assert "Pipe leaking   " in drawn(analysis(rows=rows), everything=True).split("What matters most")[1]


def test_a_set_is_one_line_of_titles_and_its_probability() -> None:
    assert "  Pump worn + pipe leaking                                                0.0002\n" in drawn(
        analysis(sets=(PAIR,))
    )


def test_what_is_left_off_is_counted_and_how_to_see_it_said() -> None:
    pairs = tuple(weighed(0.001 / at, *PAIR[0]) for at in range(1, 21))
    found = analysis(sets=(*pairs, FOUR))
    assert "and 14 more, none above 0.00014; --all lists them" in drawn(found)
    assert "1 set of 4 faults, at 2.0e-8; --all lists it" in drawn(found)
    everything = drawn(found, everything=True)
    assert "--all" not in everything
    assert "Pump worn + pump seized + pipe leaking + gauge stuck low" in flat(everything)


def test_every_column_of_the_figures_is_explained() -> None:
    text = drawn(analysis())
    assert all(f"\n  {name}" in text for name in FIGURES)


def test_a_narrow_window_has_figures_in_words() -> None:
    assert "given 40 %, Birnbaum 0.96" in flat(drawn(analysis(), 40))


def test_read_aloud_there_are_no_columns() -> None:
    """Each line is a sentence of its own: no rules, no runs of spaces, no bars."""
    library = pump(
        ("seized: {title: pump seized, item: pump, probability: 0.01}", "seized: {title: S, likelihood: remote}"),
    )
    text = drawn(analysis(library=library, rows=(measure("pump/seized", 0.5, 0.25),)), 120, spoken=True)
    assert "----" not in text
    assert "#" not in text
    assert "Pump worn, probability 0.02\n" in text
    assert "S, decides 25 %\n" in text
    assert "checks made by the crew and the line, revealed 76 %, to 1 item" in text
    assert "RAW: so many times likelier" in text
    assert not [line for line in text.splitlines() if "   " in line.strip()]


def test_a_factor_without_end_is_no_number() -> None:
    assert "no end" in drawn(analysis(rows=(measure("pump/worn", 1.0, reduction=float("inf")),)))


def test_bands_are_named_and_marked() -> None:
    """Figures beside others carry a mark; where all rest on bands, that is said and the structure ranked."""
    library = pump(
        ("seized: {title: pump seized, item: pump, probability: 0.01}", "seized: {title: S, likelihood: remote}"),
    )
    figures = (measure("pump/seized", 0.5, 0.25), measure("pump/leak", 0.5, 0.7))
    mixed = drawn(analysis(library=library, rows=figures))
    assert "0.01*" in mixed
    assert "* rests on a likelihood band. Likelihood bands (this library's own weights): frequent" in flat(mixed)
    assert "by structure alone" not in mixed
    only = drawn(analysis(library=library, rows=figures[:1]))
    assert "All figures rest on likelihood bands alone." in flat(only)
    assert "What matters most by structure alone" in only
    assert "25 %" in only
    assert "0.01*" not in only


def test_groups_are_lettered_and_parted_by_a_line() -> None:
    text = drawn(analysis())
    assert "  A  Pump worn\n  B  Pipe leaking\n  Best made observable: “the floor dry”" in text


def test_checks_that_add_nothing_with_their_times() -> None:
    text = drawn(analysis())
    assert (
        "Checks that add nothing, one fault at a time\n  “listen to the pump” (5 min) tells all that this one tells:\n"
        "    - listen longer (20 min)\n"
    ) in text
    assert "Quick checks" not in text
    unsure = pump(("reads: turns, by: crew}", "reads: turns, false_no: 0.1, by: crew}"))
    text = drawn(analysis(library=unsure))
    assert (
        "Quick checks that add nothing to a longer one\n  “listen longer” (20 min) tells all that this one tells:\n"
        "    - listen to the pump (5 min)\n"
    ) in text


def test_a_group_of_one_item_and_what_is_not_compared() -> None:
    """Faults of one item need not be told apart to be mended; faults that act together are not compared."""
    library = pump(("lost_if: [worn, leak]", "lost_if: [worn]"))
    text = drawn(analysis(library=library, by=("line",), lower=0.06, upper=0.06))
    assert "All are faults of one item: pump." in text
    assert "of the reports come from faults that act together; they are not compared here" in flat(text)


def test_many_groups_are_cut_short() -> None:
    """Of twenty pairs and a group of fourteen that nothing reveals, ten groups are shown and ten of the fourteen."""
    found = analyse(load_texts({"s.yaml": many_groups()}), "s/seen")
    short, everything = drawn(found), drawn(found, everything=True)
    assert short.count("Best made observable") == 10
    assert "and 11 more groups; --all lists them" in short
    assert "and 4 more; --all lists them" in short
    assert everything.count("Best made observable") == 21
    assert "--all" not in everything


def many_groups() -> str:
    """A check names the pair in which a fault lies, and cannot see those that lie in none."""
    pairs = [(f"a{at}", f"b{at}") for at in range(20)]
    unseen = [f"c{at}" for at in range(14)]
    names = [*(one for pair in pairs for one in pair), *unseen]
    causes = "".join(f"  {name}: {{title: fault {name}, probability: 0.001}}\n" for name in names)
    signals = "".join(f"  good-{name}: {{title: {name} good, lost_if: [{name}]}}\n" for name in names)
    answers = "".join(f"      {one}: {{text: P, when: {{any: [{one}, {two}]}}}}\n" for one, two in pairs)
    return (
        f"faultree: 1\ntitle: Pairs\ncauses:\n{causes}signals:\n{signals}"
        f"events:\n  top: {{title: T, any: [{', '.join(names)}]}}\n"
        f"checks:\n  look:\n    title: look\n    answers:\n{answers}      rest: {{text: R, when: otherwise}}\n"
        "symptoms:\n  seen: {title: seen, event: top}\n"
    )


def test_no_checks_no_table_of_fractions() -> None:
    """A symptom without single faults has nothing to tell apart one at a time."""
    text = drawn(analysis("pump/both", sets=(PAIR,)))
    assert "What the checks can tell apart, one" not in text
    assert "worked out for single faults, of which there is none here" in flat(text)


def test_a_symptom_that_needs_no_fault_has_no_tables() -> None:
    text = drawn(analysis("pump/both", sets=(weighed(1.0),), rows=()))
    assert "there with nothing wrong at all" in flat(text)
    assert "probability" not in text


def test_a_cut_list_says_what_was_left_out() -> None:
    text = flat(drawn(analysis(sets=(PAIR,), orders={2: 1000}, cut_off="999 sets less likely", left_out=3e-7)))
    assert (
        "Not listed: 999 sets less likely. The probability that this comes from those alone is at most 3.0e-7" in text
    )
    assert "--all" not in text


def test_author_words_are_never_markup() -> None:
    library = pump(("title: pump worn, item", "title: '[/b] worn [red]', item"))
    assert "[/b] worn [red]" in drawn(analysis(library=library))
