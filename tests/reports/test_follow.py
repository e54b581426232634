"""The page of a chart is followed by keyboard alone, shows cautions before their step, and asks nobody anything."""

from __future__ import annotations

import pytest

from faultree.library.load import load_texts
from faultree.reports.follow import ANSWERS, follow_html
from faultree.strategy.chart.compile import compile_chart
from faultree.walk.chart_blocks import EndBlock
from faultree.walk.chart_page import page_of
from tests.reports.conftest import Opened, printed
from tests.reports.small import gate


@pytest.fixture(scope="module")
def page() -> str:
    return follow_html(page_of(gate(), compile_chart(gate(), ["still"], goal="item")))


def test_a_whole_chart_is_walked_by_keyboard(opened: Opened, page: str) -> None:
    """By the numbers of the answers alone, to an end with its manual; then back, step by step, to the beginning."""
    shown = opened(page)
    titles = [shown.inner_text("#title")]
    for _ in range(20):
        if shown.query_selector("#step .answers") is None:
            break
        shown.keyboard.press("1")
        titles.append(shown.inner_text("#title"))
        assert shown.evaluate("document.activeElement.id") == "title"
    assert shown.inner_text("#step").startswith("End")
    assert "P " in shown.inner_text("#step dl")
    steps = shown.locator("#trail li").count()
    assert steps >= 1
    for _ in range(steps):
        shown.keyboard.press("b")
    assert shown.inner_text("#title") == titles[0]
    assert shown.locator("#trail li").count() == 0


def test_cautions_come_before_the_question(opened: Opened, page: str) -> None:
    shown = opened(page)
    for _ in range(10):
        if "listen to the motor" in shown.inner_text("#title").casefold():
            break
        shown.keyboard.press("1")
    assert "The gate moves; keep hands away" in shown.inner_text("#step")
    assert "Does it hum?" not in shown.inner_text("#step")
    shown.keyboard.press("1")
    assert "Does it hum?" in shown.inner_text("#step")


def test_what_cannot_be_told_leaves_the_chart(opened: Opened, page: str) -> None:
    shown = opened(page)
    while shown.locator("#step .answers button").count() == 1:  # cautions
        shown.keyboard.press("1")
    shown.locator("#step .answers button").last.click()
    assert "You have left the chart" in shown.inner_text("#step")
    shown.keyboard.press("b")
    assert shown.locator("#trail li").count() == 0


def test_tab_and_enter_are_enough(opened: Opened, page: str) -> None:
    """Every choice is a button that the Tab key reaches."""
    shown = opened(page)
    before = shown.inner_text("#step")
    for _ in range(30):
        shown.keyboard.press("Tab")
        if shown.evaluate("document.activeElement.closest('.answers') !== null"):
            break
    shown.keyboard.press("Enter")
    assert shown.inner_text("#step") != before


@pytest.mark.parametrize("width", [390, 1000])
def test_nothing_runs_over_the_edge(opened: Opened, page: str, width: int) -> None:
    shown = opened(page, width)
    assert shown.evaluate("document.documentElement.scrollWidth") <= width
    shown.keyboard.press("1")
    assert shown.evaluate("document.documentElement.scrollWidth") <= width


def test_an_accessibility_checker_finds_nothing_serious(opened: Opened, page: str) -> None:
    pytest.importorskip("axe_playwright_python", reason="the checker is not installed here")
    from tests.reports.accessible import serious

    shown = opened(page)
    assert serious(shown) == []
    shown.keyboard.press("1")
    shown.locator("#whole summary").click()
    assert serious(shown) == []


def test_titles_that_mean_harm_are_only_words(opened: Opened, page: str) -> None:
    shown = opened(page)
    shown.on("dialog", lambda dialog: opened.said.append(dialog.message))
    assert "</script><script>alert(2)</script>" in shown.inner_text("h1")
    assert "<script>alert" not in page


def test_without_its_script_the_chart_is_a_list(page: str) -> None:
    listed = page[page.index('<details class="whole"') : page.rindex("</details>")]
    for words in ("1. ", "Does it hum?", "go to ", "The gate moves; keep hands away", "P 5"):
        assert words in listed


def test_the_notice_stands_on_it(page: str) -> None:
    assert "The approved maintenance manual and a licensed engineer decide" in page


def test_printed_it_is_the_whole_chart(opened: Opened, page: str) -> None:
    """Every step, caution and end is on paper, folded as it is on the screen; buttons are not."""
    text = printed(opened(page))
    for words in (
        "Does it hum?",
        "WARNING The gate moves; keep hands away",
        "P 5",
        "go to",
        "Expected",
        "To hand over",
    ):
        assert words in text
    for one in page_of(gate(), compile_chart(gate(), ["still"], goal="item")).blocks:
        assert f"{one.number}. " in text
    assert "Begin again" not in text


def test_on_a_phone_the_first_step_is_not_below_a_page_of_other_words(opened: Opened, page: str) -> None:
    shown = opened(page, 390, 844)
    box = shown.locator("#title").bounding_box()
    assert box is not None
    assert box["y"] < 380
    assert shown.locator(".notice").is_visible()


def test_the_line_to_hand_over_says_the_way_that_was_gone(opened: Opened) -> None:
    """Also at an end that several ways lead to, for which the list can only say that there were answers."""
    library = load_texts({"g.yaml": TWO_WAYS})
    page = page_of(library, compile_chart(library, ["out"], goal="item"))
    assert any(ANSWERS in one.handover for one in page.blocks if isinstance(one, EndBlock))
    shown = opened(follow_html(page))
    for place in range(40):
        if shown.query_selector("#step .answers") is None:
            said = shown.inner_text("#step")
            assert ANSWERS not in said
            assert "; 1 " in said
            shown.click("#again")
        shown.keyboard.press(str(1 + place % 2))


TWO_WAYS = """
faultree: 1
title: Lamp
items:
  relay: {title: Relay}
  lamp: {title: Lamp}
  wire: {title: Wire}
causes:
  r1: {title: relay stuck, item: relay, probability: 0.03}
  r2: {title: relay loose, item: relay, probability: 0.03}
  l: {title: lamp burnt, item: lamp, probability: 0.03}
  w: {title: wire broken, item: wire, probability: 0.03}
events:
  dark: {title: dark, any: [r1, r2, l, w]}
  e1: {title: one, any: [r1, l]}
  e2: {title: two, any: [r1, w]}
checks:
  c1: {title: look at one, ask: Is it one?, reads: e1, minutes: 1}
  c2: {title: look at two, ask: Is it two?, reads: e2, minutes: 1}
  c3: {title: look at three, ask: Is it three?, reads: r2, minutes: 1}
symptoms:
  out: {title: the lamp is dark, event: dark}
"""
