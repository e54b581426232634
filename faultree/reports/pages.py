"""Templates of pages, filled so that no text of an author or a crew can become markup or script."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from markupsafe import Markup

if TYPE_CHECKING:
    from jinja2 import Environment

TEMPLATES = Path(__file__).parent / "templates"


def rendered(template: str, **values: object) -> str:
    """A template with its values; every text is escaped."""
    return _environment().get_template(template).render(**values)


@cache
def _environment() -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined, trim_blocks=True)


def script_data(value: object) -> Markup:
    """Plain data for a `script` element of type application/json: nothing in it can end the element."""
    text = json.dumps(value, ensure_ascii=False)
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return Markup(text)


def in_md(words: str) -> str:
    r"""Words on one line that Markdown takes as they stand.

    >>> print(in_md("a *b*\n#c"))
    a \*b\* \#c
    """
    return "".join(f"\\{sign}" if sign in "\\`*_[]<>#|" else sign for sign in " ".join(words.split()))
