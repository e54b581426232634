"""The colours keep words readable, in both themes, in grey print, and say nothing by colour alone."""

from __future__ import annotations

import pytest

from faultree.diagrams.palette import Theme, paint, paint_line, palette
from faultree.diagrams.picture import Line, Look, Shape, State

THEMES: tuple[Theme, ...] = ("light", "dark")
LOOKS: tuple[Look, ...] = ("plain", "top", "gate", "leaf", "transfer", "caution", "end", "step", "mark")
STATES: tuple[State, ...] = ("", "cleared", "suspect", "path", "odd", "usual")


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2 defines it (formula from memory)."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio as WCAG 2 defines it."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("look", LOOKS)
def test_words_stand_out_from_what_they_stand_on(theme: Theme, look: Look) -> None:
    """A contrast of 4.5 or more (WCAG 2 level AA), in every state."""
    for state in STATES:
        painted = paint(Shape("x", "box", 0, 0, 9, 9, look=look, state=state), theme)
        assert contrast(painted.ink, painted.fill) >= 4.5, (look, state)
    for kind in ("small", "note"):
        text = paint(Shape("x", "text", 0, 0, 9, 9, look=kind), theme)
        assert contrast(text.ink, palette(theme).ground) >= 4.5
        assert contrast(text.ink, palette(theme).gate) >= 4.5
        assert contrast(text.ink, palette(theme).odd) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
def test_states_differ_without_colour(theme: Theme) -> None:
    """Each state that says something has a weight or a line style of its own."""
    signs = {}
    for state in ("", "cleared", "suspect", "path", "odd"):
        painted = paint(Shape("x", "box", 0, 0, 9, 9, look="leaf", state=state), theme)
        signs[state] = (painted.weight, painted.dashed)
    assert len(set(signs.values())) == len(signs)


@pytest.mark.parametrize("theme", THEMES)
def test_the_way_is_heavier_than_other_lines_and_cleared_ones_are_dashed(theme: Theme) -> None:
    plain, way, gone = (paint_line(Line("a", "b", (), state=state), theme) for state in ("", "path", "cleared"))
    assert way.weight >= 2 * plain.weight
    assert gone.dashed
    assert not plain.dashed
