"""The sheet of every symptom of the demonstration library: within the page, in words alone, and in good time."""

from __future__ import annotations

import re
import time
from functools import cache

import pytest

from faultree.strategy.analysis import Analysis, analyse
from faultree.terminal.analysis_sheet import draw_analysis
from faultree.terminal.look import Page
from faultree.walk.analysis_page import page_of
from faultree.walk.prompt import NOTICE
from tests.terminal.drawn import as_shown, cells
from tests.trees.demonstration import library

SYMPTOMS = list(library().symptoms)

PATIENCE = 2.0
"""Seconds of this process that an analysis may take; others on the machine do not count."""


@cache
def found(symptom: str) -> Analysis:
    return analyse(library(), symptom)


@pytest.mark.parametrize("symptom", SYMPTOMS)
def test_the_sheet_is_readable(symptom: str) -> None:
    """No line runs over; no id, no word of Python and no figure that is none stands where a person reads."""
    before = time.process_time()
    page = page_of(found(symptom))
    wide = as_shown(draw_analysis(page, Page(120, True)), width=120)
    assert time.process_time() - before < PATIENCE
    narrow = as_shown(draw_analysis(page, Page(80, True)), width=80)
    assert max(map(cells, narrow.splitlines())) <= 80
    assert max(map(cells, wide.splitlines())) <= 120
    flat = " ".join(narrow.split())
    assert NOTICE in flat
    assert not re.search(r"\b(?:None|nan|inf|True|False)\b", flat)
    named = {name for table in (library().causes, library().checks, library().items) for name in table}
    assert not [name for name in named if name in flat]
    for one in found(symptom).checks.matrix.causes:
        title = library().causes[one].title
        assert f"{title[:1].upper()}{title[1:]}" in flat


def test_every_single_fault_of_the_library_is_told_apart() -> None:
    """With all its checks the library isolates each single fault to one item; by the crew alone it cannot."""
    for symptom in SYMPTOMS:
        checks = found(symptom).checks
        assert checks.isolated[1] in (None, 1.0), symptom
        assert checks.groups == (), symptom
    assert any(analyse(library(), one, ["crew"]).checks.groups for one in SYMPTOMS)
