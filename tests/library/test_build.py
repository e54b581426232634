"""A file that uses every construct of the format, held against the model field by field."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from faultree.library.load import load, read_texts
from faultree.library.marked import FAST_LOADER, SAFE_LOADER
from faultree.library.model import (
    BANDS,
    Access,
    Answer,
    Caution,
    Check,
    Condition,
    Event,
    Example,
    Expectation,
    Gate,
    Item,
    Library,
    Likelihood,
    Ref,
    Signal,
    Situation,
    Symptom,
    System,
)

PATH = Path(__file__).with_name("full.yaml")


def _ref(name: str) -> Ref:
    return Ref(f"full/{name}")


@pytest.fixture(scope="module")
def library() -> Library:
    return load(PATH)


def test_the_head(library: Library) -> None:
    head = System(
        id="full",
        title="Reading lamp",
        summary="A lamp over a table, fed through a switch.",
        chapter="33-20",
        authority="The lamp's own booklet",
    )
    assert library.systems == {"full": head}
    assert library.systems["full"].extra == {"x-revision": 4}
    assert library.bands == {**BANDS, "frequent": 0.1, "improbable": 1e-5}


def test_conditions_and_situations(library: Library) -> None:
    """A situation holds what it inherits, its own settings last and its parent's cautions first."""
    assert library.conditions == {
        "full/mains-on": Condition(id="full/mains-on", title="mains present", usually=True),
        "full/dark": Condition(id="full/dark", title="room dark"),
    }
    evening = Situation(id="full/evening", title="in the evening", sets={"full/dark": True}, cautions=("full/hot",))
    outage = Situation(
        id="full/outage",
        title="in an outage",
        sets={"full/dark": True, "full/mains-on": False},
        extends="full/evening",
        cautions=("full/hot", "full/glass"),
    )
    assert library.situations == {"full/evening": evening, "full/outage": outage}
    assert library.settings("full/outage") == {"full/mains-on": False, "full/dark": True}
    assert library.settings(None) == {"full/mains-on": True, "full/dark": False}


def test_items_access_and_cautions(library: Library) -> None:
    bulb = Item(
        id="full/bulb",
        title="bulb",
        place="in the shade",
        manual="booklet 2",
        minutes=2.5,
        access=("full/shade",),
        cautions=("full/hot", "full/glass"),
    )
    assert library.items == {"full/bulb": bulb, "full/switch": Item(id="full/switch", title="switch", minutes=30)}
    assert library.access == {
        "full/shade": Access(id="full/shade", title="take the shade off", minutes=1, cautions=("full/hot",)),
        "full/table": Access(id="full/table", title="move the table", minutes=5),
    }
    hot, gloves = "The bulb is hot.", "Broken glass.\nWear gloves."
    assert library.cautions == {
        "full/hot": Caution(id="full/hot", title=hot, text=hot, level="warning"),
        "full/glass": Caution(id="full/glass", title=gloves, text=gloves, level="caution"),
    }


def test_causes(library: Library) -> None:
    """Probabilities are resolved, and how they were stated is kept."""
    stated = {
        cause.id.removeprefix("full/"): (cause.likelihood, cause.probability) for cause in library.causes.values()
    }
    assert stated == {
        "bulb-dead": (Likelihood(probability=0.05), 0.05),
        "bulb-loose": (Likelihood(band="frequent"), 0.1),
        "switch-stuck-on": (Likelihood(rate=1e-5, hours=1000), pytest.approx(1 - math.exp(-0.01), rel=1e-12)),
        "switch-stuck-off": (Likelihood(rate=2e-6), pytest.approx(2e-6 - 2e-12, rel=1e-9)),
        "plug-out": (Likelihood(band="improbable"), 1e-5),
    }
    dead, plug = library.causes["full/bulb-dead"], library.causes["full/plug-out"]
    assert (dead.title, dead.item, dead.minutes, dead.note) == ("bulb dead", "full/bulb", 30, "the usual: filament")
    assert (plug.item, plug.minutes) == (None, 0)
    assert library.causes["full/switch-stuck-on"].manual == "booklet 3"


def test_signals(library: Library) -> None:
    assert library.signals == {
        "full/pressed": Signal(id="full/pressed", title="switch pressed", undeveloped=True),
        "full/fed": Signal(
            id="full/fed",
            title="lamp fed",
            follows=Gate("all", (_ref("mains-on"), _ref("pressed"))),
            lost_if=(
                _ref("plug-out"),
                Gate("all", (_ref("switch-stuck-off"), Gate("not", (_ref("switch-stuck-on"),)))),
            ),
            forced_if=(_ref("switch-stuck-on"),),
        ),
        "full/lit": Signal(
            id="full/lit", title="lamp lit", follows=_ref("fed"), lost_if=(_ref("bulb-dead"), _ref("bulb-loose"))
        ),
    }


def test_events(library: Library) -> None:
    bad = (_ref("bulb-dead"), _ref("plug-out"))
    gates = {
        "out": ("lamp out", Gate("not", (_ref("lit"),))),
        "all-bad": ("all", Gate("all", bad)),
        "any-bad": ("any", Gate("any", bad)),
        "none-bad": ("none", Gate("none", bad)),
        "two-bad": ("two", Gate("at_least", (*bad, _ref("switch-stuck-off")), 2)),
        "one-bad": ("one", Gate("one_of", bad)),
    }
    assert library.events == {
        f"full/{name}": Event(id=f"full/{name}", title=title, gate=gate) for name, (title, gate) in gates.items()
    }


def test_checks(library: Library) -> None:
    """A check that reads a node has the answers yes and no; `otherwise` is none of the others."""
    fed, lit, any_bad = _ref("fed"), _ref("lit"), _ref("any-bad")
    black = Gate("all", (Gate("not", (lit,)), _ref("bulb-dead")))
    press = Check(
        id="full/press",
        title="press the switch",
        ask="Does it click?",
        situation="full/evening",
        reads="full/fed",
        answers=(Answer("yes", "it clicks", fed), Answer("no", "No", Gate("not", (fed,)))),
        false_yes=0.1,
        false_no=0.02,
        minutes=1,
        access=("full/shade", "full/table"),
        by="crew",
        cautions=("full/glass",),
        manual="booklet 1",
        tools=("finger", "ear"),
        note="Listen.",
    )
    look = Check(
        id="full/look",
        title="look at the bulb",
        answers=(
            Answer("yes", "it glows", lit),
            Answer("black", "it is black", black),
            Answer("other", "neither", Gate("none", (lit, black))),
        ),
        error=0.03,
    )
    feel = Check(
        id="full/feel",
        title="feel the switch",
        reads="full/any-bad",
        answers=(Answer("yes", "Yes", any_bad), Answer("no", "as always", Gate("not", (any_bad,)))),
    )
    assert library.checks == {"full/press": press, "full/look": look, "full/feel": feel}
    assert (look.minutes, look.by, look.situation) == (5, "line", None)


def test_symptoms(library: Library) -> None:
    dark = Symptom(
        id="full/dark-table",
        title="table dark",
        words=("no light", "lamp: dead"),
        situation="full/evening",
        sees=(("full/out", True), ("full/fed", False), ("full/dark", True)),
        false_report=0.01,
        retest=3,
        manual="booklet 9",
        note="Ask twice.",
    )
    out = Symptom(id="full/lamp-out", title="lamp out", sees=(("full/out", True),))
    assert library.symptoms == {"full/dark-table": dark, "full/lamp-out": out}
    assert out.retest == 10


def test_examples(library: Library) -> None:
    dead = Expectation(first="full/bulb-dead", at_least=0.5, cleared=("full/plug-out", "full/bulb-loose"))
    assert library.examples == (
        Example("dead bulb", ("full/lamp-out",), (("full/look", "black"), ("full/press", "no")), dead),
        Example("two reports", ("full/lamp-out", "full/dark-table"), (), Expectation(cleared=("full/bulb-loose",))),
    )


def test_every_entry_knows_its_place(library: Library) -> None:
    """Line and column are those of the entry's key; of an example, where its mapping begins."""
    lines = PATH.read_text(encoding="utf-8").splitlines()
    tables = (library.causes, library.signals, library.events, library.checks, library.symptoms, library.items)
    entries = [entry for table in tables for entry in table.values()]
    assert len(entries) == 5 + 3 + 6 + 3 + 2 + 2
    for entry in entries:
        assert entry.at.file == str(PATH)
        assert lines[entry.at.line - 1][entry.at.column - 1 :].startswith(f"{entry.id.partition('/')[2]}:")
    assert lines[library.examples[0].at.line - 1][library.examples[0].at.column - 1 :] == "title: dead bulb"


def test_both_parsers_give_the_same_library() -> None:
    text = PATH.read_text(encoding="utf-8")
    fast = read_texts({"full.yaml": text}, loader=FAST_LOADER).library
    slow = read_texts({"full.yaml": text}, loader=SAFE_LOADER).library
    assert fast is not None
    assert slow is not None
    assert vars(fast) == vars(slow)
