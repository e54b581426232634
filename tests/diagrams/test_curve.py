"""The curve as SVG: well-formed, true to its moments, readable without colour, and it says who decides."""

from __future__ import annotations

import re
from xml.etree.ElementTree import Element

import pytest
from defusedxml.ElementTree import fromstring

from faultree.diagrams.curve import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH, curve_svg
from faultree.diagrams.metrics import width
from faultree.practice.curve import Moment

OWN = (Moment(0, 2.0), Moment(10, 2.0), Moment(40, 0.5), Moment(80, 0.0))
BEST = (Moment(0, 2.0), Moment(5, 0.0))
SVG = "{http://www.w3.org/2000/svg}"


def drawn(own: tuple[Moment, ...] = OWN, best: tuple[Moment, ...] = BEST, heading: str = "A <report>") -> Element:
    found = fromstring(curve_svg(own, best, heading))
    assert isinstance(found, Element)
    return found


def curves(root: Element) -> list[Element]:
    return [one for one in root.iter(f"{SVG}path") if " V " in one.get("d", "") and one.get("stroke-width") == "2.4"]


def test_lines_have_their_steps_where_the_moments_are() -> None:
    """Worked by hand: 80 minutes are the whole width, 2 bits the whole height."""
    best, own = curves(drawn())
    across, down = WIDTH - LEFT - RIGHT, HEIGHT - TOP - BOTTOM
    points = [(one.minutes / 80, 1 - one.bits / 2) for one in OWN]
    steps = "".join(f" H {LEFT + across * x:.1f} V {TOP + down * y:.1f}" for x, y in points[1:])
    assert own.get("d") == f"M {LEFT:.1f} {TOP:.1f}{steps}"
    assert best.get("d", "").endswith(f"H {LEFT + across * 5 / 80:.1f} V {HEIGHT - BOTTOM:.1f}")


def test_the_two_lines_differ_without_colour() -> None:
    best, own = curves(drawn())
    assert best.get("stroke-dasharray")
    assert not own.get("stroke-dasharray")


def test_the_words_say_what_it_is_and_who_decides() -> None:
    root = drawn()
    words = " ".join(one.text or "" for one in root.iter(f"{SVG}text"))
    for wanted in (
        "A <report>",
        "this run",
        "the best strategy",
        "minutes of work",
        "bits missing",
        "licensed engineer",
    ):
        assert wanted in words
    assert "from 2.00 bits to 0.00 bits within 80 minutes" in (root.findtext(f"{SVG}desc") or "")


@pytest.mark.parametrize("heading", ["short", "the spoiler lever is held at its in-flight stop " * 4])
def test_no_text_leaves_the_picture(heading: str) -> None:
    for one in drawn(heading=heading).iter(f"{SVG}text"):
        size = float(one.get("font-size", "12"))
        x, wide = float(one.get("x", "0")), width(one.text or "", size, bold=True)
        left = {"middle": x - wide / 2, "end": x - wide}.get(one.get("text-anchor", ""), x)
        assert left >= 0.0
        assert left + wide <= WIDTH


@pytest.mark.parametrize(
    "moments", [(Moment(0, 0.0),), (Moment(0, 0.0), Moment(0, 0.0)), (Moment(0, 9.0), Moment(1e4, 0))]
)
def test_odd_runs_are_drawn_too(moments: tuple[Moment, ...]) -> None:
    """A run without a step, without anything unknown, or without end."""
    text = curve_svg(moments, moments, "x")
    assert not re.search(r"\b(nan|inf)\b", text)
    fromstring(text)
