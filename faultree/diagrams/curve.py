"""The curve of a practice run as SVG: bits missing over minutes, of the trainee and of the best strategy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from math import ceil, floor, log10

from faultree.diagrams.frame import NOTICE
from faultree.diagrams.metrics import clean, wrap
from faultree.diagrams.palette import Palette, Theme, palette
from faultree.diagrams.svg import FACES
from faultree.practice.curve import Moment

WIDTH, HEIGHT = 640.0, 400.0
LEFT, RIGHT, TOP, BOTTOM = 62.0, 24.0, 96.0, 70.0
"""The margins around the field, in points."""

TICKS = 5
"""About so many marks stand on an axis."""


def curve_svg(own: Sequence[Moment], best: Sequence[Moment], heading: str, theme: Theme = "light") -> str:
    """The picture as the text of an SVG file: `own` drawn through, `best` dashed, each named beside its line style.

    What is missing stays the same while a step is made and changes when its outcome is known, so lines have steps.
    """
    colours, described = (
        palette(theme),
        f"{heading}. {_told('this run', own)} {_told('the best strategy', best)} {NOTICE}",
    )
    size = f'width="{WIDTH:.0f}pt" height="{HEIGHT:.0f}pt" viewBox="0 0 {WIDTH:.0f} {HEIGHT:.0f}"'
    longest = max([one.minutes for one in (*own, *best)] + [1.0])
    highest = max([one.bits for one in (*own, *best)] + [0.1])
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} font-family="{FACES}" font-size="12" role="img">',
        f"<title>{_text(heading)}</title>",
        f"<desc>{_text(described)}</desc>",
        f'<rect width="100%" height="100%" fill="{colours.ground}"/>',
        *(
            _words(LEFT, 20.0 + 17.0 * place, line, colours.ink, "font-weight='bold' font-size='13'")
            for place, line in enumerate(wrap(heading, WIDTH - LEFT - RIGHT, 13.0, bold=True, most=2))
        ),
        *_legend(colours),
        *_axes(longest, highest, colours),
        _line(best, longest, highest, colours.soft, dashed=True),
        _line(own, longest, highest, colours.strong),
        _words(LEFT, HEIGHT - 12.0, NOTICE, colours.soft, "font-size='8.5'"),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _told(who: str, moments: Sequence[Moment]) -> str:
    first, last = moments[0], moments[-1]
    return f"{who}: from {first.bits:.2f} bits to {last.bits:.2f} bits within {last.minutes:.0f} minutes."


def _legend(colours: Palette) -> Iterator[str]:
    for x, words, stroke, dashes in (
        (LEFT, "this run", colours.strong, ""),
        (LEFT + 130.0, "the best strategy on the same aircraft", colours.soft, ' stroke-dasharray="6 4"'),
    ):
        yield f'<path d="M {x:.1f} 58 h 30" stroke="{stroke}" stroke-width="2.4" fill="none"{dashes}/>'
        yield _words(x + 36.0, 62.0, words, colours.ink)


def _axes(longest: float, highest: float, colours: Palette) -> Iterator[str]:
    floor_y, right = HEIGHT - BOTTOM, WIDTH - RIGHT
    for value in _ticks(highest):
        y = _y(value, highest)
        yield f'<path d="M {LEFT:.1f} {y:.1f} H {right:.1f}" stroke="{colours.faint}" stroke-width="0.5" fill="none"/>'
        yield _words(LEFT - 8.0, y + 4.0, f"{value:g}", colours.soft, "text-anchor='end'")
    for value in _ticks(longest):
        x = _x(value, longest)
        yield f'<path d="M {x:.1f} {floor_y:.1f} v 5" stroke="{colours.line}" fill="none"/>'
        yield _words(x, floor_y + 18.0, f"{value:g}", colours.soft, "text-anchor='middle'")
    yield f'<path d="M {LEFT:.1f} {TOP:.1f} V {floor_y:.1f} H {right:.1f}" stroke="{colours.line}" fill="none"/>'
    yield _words(right, floor_y + 34.0, "minutes of work", colours.ink, "text-anchor='end'")
    yield _words(LEFT - 40.0, TOP - 10.0, "bits missing to know which part it is", colours.ink)


def _ticks(most: float) -> list[float]:
    """Round values from 0 to the most, about TICKS of them.

    >>> _ticks(93.0)
    [0.0, 20.0, 40.0, 60.0, 80.0]
    """
    rough = most / TICKS
    power = 10.0 ** floor(log10(rough))
    size = next(factor * power for factor in (1.0, 2.0, 5.0, 10.0) if factor * power >= rough)
    return [round(number * size, 9) for number in range(ceil(most / size + 1e-9)) if number * size <= most]


def _line(moments: Sequence[Moment], longest: float, highest: float, stroke: str, *, dashed: bool = False) -> str:
    first = moments[0]
    path = [f"M {_x(first.minutes, longest):.1f} {_y(first.bits, highest):.1f}"]
    path += [f"H {_x(one.minutes, longest):.1f} V {_y(one.bits, highest):.1f}" for one in moments[1:]]
    dashes = ' stroke-dasharray="6 4"' if dashed else ""
    last = moments[-1]
    end = f'<circle cx="{_x(last.minutes, longest):.1f}" cy="{_y(last.bits, highest):.1f}" r="3.5" fill="{stroke}"/>'
    return f'<path d="{" ".join(path)}" stroke="{stroke}" stroke-width="2.4" fill="none"{dashes}/>{end}'


def _x(minutes: float, longest: float) -> float:
    return LEFT + (WIDTH - LEFT - RIGHT) * minutes / longest


def _y(bits: float, highest: float) -> float:
    return HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * bits / highest


def _words(x: float, y: float, words: str, fill: str, style: str = "") -> str:
    more = f" {style}" if style else ""
    return f'<text x="{x:.1f}" y="{y:.1f}" fill="{fill}"{more}>{_text(words)}</text>'


def _text(words: str) -> str:
    return escape(clean(words))
