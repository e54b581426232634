"""What commands share: where the library is, and how symptoms and answers are named."""

from __future__ import annotations

import pytest

from faultree.base.errors import UnknownName
from faultree.belief.evidence import Reply
from faultree.cli.options import open_case, symptom_ids
from tests.walk.small import small


def test_symptoms_are_named_by_id_or_words() -> None:
    """Words that fit several, or none, are asked back."""
    assert symptom_ids(small(), ["dark", "both reported"]) == ["signal/dark", "signal/doubly-bad"]
    with pytest.raises(UnknownName) as several:
        symptom_ids(small(), ["stays"])
    assert several.value.ambiguous
    with pytest.raises(UnknownName, match="unknown symptom 'zebra'"):
        symptom_ids(small(), ["zebra"])


def test_answers_on_the_command_line_become_steps() -> None:
    """In the order given; spaces around the sign do no harm."""
    case = open_case(small(), ["dark"], ["voltage = no", "click=?"])
    assert case.steps == (Reply("signal/voltage", "no"), Reply("signal/click", None))


def test_words_of_one_symptom_need_no_quotes() -> None:
    """Ids come first; words that fit one symptom only together are that one."""
    assert symptom_ids(small(), ["both", "reported", "bad"]) == ["signal/doubly-bad"]
    assert symptom_ids(small(), ["dark", "button-lamp"]) == ["signal/dark", "signal/button-lamp"]


def test_checks_and_answers_are_named_by_words_too() -> None:
    """What fits several, or none, is asked back."""
    case = open_case(small(), ["dark"], ["measure voltage=No", "listen=clear click", "bench=does not"])
    assert case.steps == (
        Reply("signal/voltage", "no"), Reply("signal/click", "click"), Reply("signal/bench", "yes"),
    )  # fmt: skip
    for text in ("the=no", "bench=it"):
        with pytest.raises(UnknownName) as several:
            open_case(small(), ["dark"], [text])
        assert several.value.ambiguous
