"""The scale of ordinal likelihoods stands beside results that rest on it, and only there."""

from __future__ import annotations

from faultree.strategy.case import Case
from faultree.walk.scale import bands, scale
from tests.walk.small import SIGNAL, walked


def test_the_scale_is_named_where_a_suspect_rests_on_a_band() -> None:
    """The fuse's likelihood is the word "probable"."""
    assert "probable 0.01" in scale(walked().open_case)


def test_no_scale_without_bands() -> None:
    """Figures alone need no scale."""
    from faultree.library.load import load_texts

    plain = load_texts({"signal.yaml": SIGNAL.replace("likelihood: probable", "probability: 0.01")})
    assert scale(Case.open(plain, ["dark"])) == ""


def test_history_in_use_is_named_with_it_or_alone() -> None:
    """A library that was taught says so beside every result, whether a suspect rests on a band or not."""
    from dataclasses import replace

    taught = replace(walked().library, history="History is in use.")
    assert scale(Case.open(taught, ["dark"])).endswith("0.0001. History is in use.")
    assert bands(taught, []) == "History is in use."
