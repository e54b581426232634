"""A column becomes a check that shows what the matrix says for each cause alone, and an answer of several sensibly."""

from __future__ import annotations

from itertools import combinations

from faultree.library import model
from faultree.library.exchange.matrix import read_matrix
from faultree.library.load import load_texts
from tests.oracles.brute import Brute

HEAD = "cause,likelihood,lamp,meter,ear\n"


def _library(text: str) -> model.Library:
    found = read_matrix(text.encode(), "m.csv", "m", 0.1)
    assert found.text is not None, "\n".join(map(str, found.problems))
    return load_texts({"m.yaml": found.text})


def _shown(library: model.Library, check: str, *faults: str) -> str:
    return Brute(library, ["m/m"]).right_answer(f"m/{check}", frozenset(f"m/{one}" for one in faults))


def test_each_cause_alone_shows_its_cells() -> None:
    text = HEAD + "(usual),,yes,ok,\na,,no,low,x\nb,,yes,high,\nc,,no,ok,1\n"
    library = _library(text)
    expected = {
        "": ("yes", "ok", "no"),
        "a": ("no", "low", "yes"),
        "b": ("yes", "high", "no"),
        "c": ("no", "ok", "yes"),
    }
    for cause, answers in expected.items():
        found = tuple(_shown(library, check, *([cause] if cause else [])) for check in ("lamp", "meter", "ear"))
        assert found == answers


def test_of_several_causes_the_first_answer_other_than_usual_is_shown() -> None:
    """Whatever is present, exactly one answer holds."""
    library = _library("cause,meter\n(usual),ok\na,low\nb,high\nc,low\nd,\n")
    for count in range(5):
        for faults in combinations("abcd", count):
            expected = "low" if {"a", "c"} & set(faults) else "high" if "b" in faults else "ok"
            assert _shown(library, "meter", *faults) == expected


def test_one_cause_is_read_directly_and_several_through_a_node() -> None:
    library = _library("cause,one,two,gone\n(usual),,,yes\na,x,x,no\nb,,1,no\n")
    assert library.checks["m/one"].reads == "m/a"
    assert library.checks["m/two"].reads == "m/two-seen"
    assert library.checks["m/gone"].reads == "m/gone-as-usual"
    assert [one.id for one in library.signals["m/gone-as-usual"].lost_if if isinstance(one, model.Ref)] == [
        "m/a",
        "m/b",
    ]


def test_rows_about_checks() -> None:
    text = (
        "cause,Look here\n(title),look at it\n(ask),Is it wet?\n(by),Crew\n(minutes),2.5\n(yes),wet\n(no),dry\n"
        "(false_yes),0.1\n(false_no),0.2\n(tools),torch | mirror\n(manual),M 1\n(note),N\n(situation),at night\n"
        "(cautions),WARNING: It is hot | Mind the step\na,x\nb,\n"
    )
    (check,) = _library(text).checks.values()
    assert check.id == "m/look-here"
    assert (check.title, check.ask, check.by, check.minutes) == ("look at it", "Is it wet?", "crew", 2.5)
    assert [one.text for one in check.answers] == ["wet", "dry"]
    assert (check.false_yes, check.false_no, check.tools) == (0.1, 0.2, ("torch", "mirror"))
    assert (check.manual, check.note) == ("M 1", "N")
    assert check.extra == {"x-name": "Look here", "x-situation": "at night"}
    library = _library(text)
    cautions = [library.cautions[one] for one in check.cautions]
    assert [(one.level, one.text) for one in cautions] == [("warning", "It is hot"), ("caution", "Mind the step")]


def test_answers_have_texts_order_and_an_error() -> None:
    text = (
        "cause,meter\n(answers),lo: Too low | hi: Too high | ok: As it should be | odd: Odd\n(usual),ok\n"
        "(error),0.1\na,hi\nb,lo\n"
    )
    found = read_matrix(text.encode(), "m.csv", "m", 0.1)
    assert found.text is not None
    assert "Answers of 'Meter' that no cause gives, left out: odd." in found.notes
    (check,) = load_texts({"m.yaml": found.text}).checks.values()
    assert [(one.id, one.text) for one in check.answers] == [
        ("lo", "Too low"),
        ("hi", "Too high"),
        ("ok", "As it should be"),
    ]
    assert check.error == 0.1


def test_answers_that_are_no_ids_get_one() -> None:
    (check,) = _library("cause,meter\na,too low\nb,2 bar\nc,\n").checks.values()
    assert [(one.id, one.text) for one in check.answers] == [
        ("too-low", "too low"),
        ("answer-2-bar", "2 bar"),
        ("usual", "as usual"),
    ]
