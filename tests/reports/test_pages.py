"""No text of an author or a crew becomes markup, script or Markdown on a page."""

from __future__ import annotations

import json

import pytest

from faultree.reports.pages import in_md, script_data
from tests.journal.cases import HOSTILE


@pytest.mark.parametrize("words", HOSTILE)
def test_data_for_a_script_cannot_end_it(words: str) -> None:
    made = str(script_data({"words": words}))
    assert not set("<>&\u2028\u2029") & set(made)
    assert json.loads(made) == {"words": words}


def test_words_stay_words_in_markdown() -> None:
    """On one line, and every sign that would mean something there is only itself."""
    assert in_md("# a\n  *b* [c](d) `e` |f| <g> \\h _i_") == (r"\# a \*b\* \[c\](d) \`e\` \|f\| \<g\> \\h \_i\_")
