"""What becomes of an exercise that was left is said in words, and only `discard` throws it away."""

from __future__ import annotations

import io

import pytest

from faultree.terminal.look import Look
from faultree.terminal.practice_offer import choose
from faultree.terminal.pump import Screen
from tests.terminal.drawn import Script


@pytest.mark.parametrize(
    ("lines", "choice"),
    [
        (("",), "go on"),
        (("YES",), "go on"),
        (("n",), "new"),
        (("what", "new"), "new"),
        (("discard",), "discard"),
        (("q",), "quit"),
        (("ctrl-c",), "quit"),
        ((), "quit"),
    ],
)
def test_every_choice_has_its_words_and_the_end_of_the_input_leaves(lines: tuple[str, ...], choice: str) -> None:
    record = io.StringIO()
    assert choose("The gate does not move", Screen(record, Look(True, 80)), Script(lines)) == choice
    assert "An exercise was left: The gate does not move." in record.getvalue()
    assert ("Press Enter, or type new" in record.getvalue()) == ("what" in lines)
