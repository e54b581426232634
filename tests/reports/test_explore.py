"""The page of a fault tree: branches fold by key and click, details follow, the view grows; nothing is asked for."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from faultree.diagrams.evidence import evidence_of
from faultree.logic.derive import fault_tree
from faultree.reports.explore import explore_html
from faultree.strategy.case import Case
from tests.reports.conftest import Opened, printed
from tests.reports.small import gate
from tests.trees.demonstration import library


def made(*answers: tuple[str, str]) -> str:
    case = Case.open(gate(), ["still"])
    for check, answer in answers:
        case = case.answer(check, answer)
    return explore_html(gate(), fault_tree(gate(), "g/still"), evidence_of(case if answers else None))


def test_every_node_of_the_tree_is_there() -> None:
    page, tree = made(), fault_tree(gate(), "g/still")
    assert set(re.findall(r'data-key="([^"]+)"', page)) == set(tree.nodes)


def test_a_branch_folds_and_unfolds_by_keyboard(opened: Opened) -> None:
    shown = opened(made())
    top = shown.locator(".node").first
    below = shown.locator("#tree ul").first
    top.focus()
    shown.keyboard.press("Enter")
    assert top.get_attribute("aria-expanded") == "false"
    assert not below.is_visible()
    shown.keyboard.press("Enter")
    assert below.is_visible()


def test_details_of_a_cause_are_shown(opened: Opened) -> None:
    shown = opened(made())
    shown.click("#unfold")
    shown.locator(".node.cause", has_text="motor dead").click()
    said = shown.inner_text("#details")
    for words in ("0.05", "Motor", "P 2", "g/dead"):
        assert words in said


def test_all_can_be_folded_and_unfolded(opened: Opened) -> None:
    shown = opened(made())
    shown.click("#fold")
    assert shown.locator(".node:visible").count() == 1
    shown.click("#unfold")
    assert shown.locator(".node:visible").count() == shown.locator(".node").count()


def test_it_grows_and_shrinks(opened: Opened) -> None:
    shown = opened(made())
    before = shown.locator(".node").first.bounding_box()
    shown.keyboard.press("+")
    after = shown.locator(".node").first.bounding_box()
    assert before is not None
    assert after is not None
    assert after["width"] > 1.1 * before["width"]


def test_it_shows_what_was_found(opened: Opened) -> None:
    """By words, line and strike-through, not by colour alone."""
    shown = opened(made(("listen", "yes")))
    shown.click("#unfold")
    cleared = shown.locator(".node.cause", has_text="motor dead")
    assert "excluded" in cleared.inner_text()
    assert "line-through" in str(cleared.evaluate("one => getComputedStyle(one).textDecorationLine"))
    assert shown.locator(".node.path").count() >= 2
    assert "listen to the motor: " in shown.inner_text("header")


@pytest.mark.parametrize("width", [390, 1300])
def test_the_page_itself_never_runs_over_the_edge(opened: Opened, width: int) -> None:
    shown = opened(made(), width)
    assert shown.evaluate("document.documentElement.scrollWidth") <= width


def test_an_accessibility_checker_finds_nothing_serious(opened: Opened) -> None:
    pytest.importorskip("axe_playwright_python", reason="the checker is not installed here")
    from tests.reports.accessible import serious

    shown = opened(made(("listen", "yes")))
    shown.click("#unfold")
    shown.locator(".node.cause").first.click()
    assert serious(shown) == []


def test_titles_that_mean_harm_are_only_words(opened: Opened) -> None:
    page = made()
    assert "<script>alert" not in page
    shown = opened(page)
    assert "alert(2)" in shown.inner_text("h1")


def test_the_first_click_on_an_open_branch_folds_it(opened: Opened) -> None:
    shown = opened(made())
    top = shown.locator(".node").first
    top.click()
    assert top.get_attribute("aria-expanded") == "false"
    assert "the gate does not move" in shown.inner_text("#details")


def test_gates_say_in_words_what_they_need() -> None:
    page = explore_html(library(), fault_tree(library(), "spoilers/stay-down"))
    assert "these together" not in page.casefold()
    assert ">&amp; all of 2<" in page
    assert "one or more of" in page
    assert "<b>1</b>" not in page


def test_unfolded_the_top_is_in_view(opened: Opened) -> None:
    shown = opened(explore_html(library(), fault_tree(library(), "spoilers/stay-down")), 1280, 900)
    shown.click("#unfold")
    top, view = shown.locator(".node").first.bounding_box(), shown.locator("#view").bounding_box()
    assert top is not None
    assert view is not None
    assert view["x"] <= top["x"]
    assert top["x"] + top["width"] <= view["x"] + view["width"]
    assert view["y"] <= top["y"] <= view["y"] + view["height"]


def test_on_a_phone_the_tree_is_a_list_that_can_be_read(opened: Opened) -> None:
    shown = opened(explore_html(library(), fault_tree(library(), "spoilers/stay-down")), 390, 844)
    shown.click("#unfold")
    assert shown.evaluate("document.documentElement.scrollWidth") <= 390
    node = shown.locator(".node:visible")
    sizes = [node.nth(place).evaluate("one => parseFloat(getComputedStyle(one).fontSize)") for place in (0, 5, 20)]
    assert min(sizes) >= 14
    boxes = [node.nth(place).bounding_box() for place in range(3)]
    assert all(first and second and first["y"] < second["y"] for first, second in pairwise(boxes))
    assert all(box and box["width"] > 200 for box in boxes)


def test_printed_it_is_the_whole_tree_and_no_buttons(opened: Opened) -> None:
    text = printed(opened(explore_html(library(), fault_tree(library(), "electrical/dc-bus-1-off"))))
    for name in fault_tree(library(), "electrical/dc-bus-1-off").causes:
        assert library().causes[name].title in text
    assert "Unfold all" not in text
    assert "About this tree" not in text
    assert "A heavy frame leads" in text


def test_the_other_reports_of_a_case_are_named() -> None:
    case = Case.open(library(), ["spoilers/stay-down", "spoilers/rise-late"])
    page = explore_html(library(), fault_tree(library(), "spoilers/stay-down"), evidence_of(case))
    assert f"Reported too: {library().symptoms['spoilers/rise-late'].title}" in page
