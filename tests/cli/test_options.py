"""What commands share: where the library is, and how symptoms and answers are named."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.base.errors import UnknownName
from faultree.belief.evidence import Reply
from faultree.cli.options import bundled, library_folder, open_case, symptom_ids
from tests.walk.small import SIGNAL, small


def test_the_library_here_comes_before_the_bundled_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder `trees` counts where it holds tree files; a folder that is named counts always."""
    monkeypatch.chdir(tmp_path)
    assert library_folder(None) == bundled()
    (tmp_path / "trees").mkdir()
    assert library_folder(None) == bundled()
    (tmp_path / "trees" / "signal.yaml").write_text(SIGNAL, encoding="utf-8")
    assert library_folder(None) == Path("trees")
    assert library_folder("elsewhere") == Path("elsewhere")


def test_the_demonstration_library_is_found() -> None:
    """In a checkout beside the package, in an installed package within it."""
    assert list(bundled().glob("*.yaml"))


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
