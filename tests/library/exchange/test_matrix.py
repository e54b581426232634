"""A dependency matrix becomes a tree file, or every problem is told with its cell."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faultree.library import model
from faultree.library.exchange.matrix import ALONE, read_matrix
from faultree.library.load import load_texts
from faultree.library.values import control


def _library(text: str, figure: str | float | None = None) -> model.Library:
    found = read_matrix(text.encode(), "dir/m.csv", "m", figure)
    assert found.text is not None, "\n".join(map(str, found.problems))
    assert found.notes[0] == ALONE
    return load_texts({"m.yaml": found.text})


def _problems(text: str) -> list[str]:
    found = read_matrix(text.encode(), "m.csv", "m")
    assert found.text is None
    return [str(one).removeprefix("m.csv:") for one in found.problems]


def test_causes_items_and_the_symptom() -> None:
    text = (
        "Cause;Title;Item;Item title;Place;Manual;Likelihood;Minutes;Symptom;lamp\n"
        "(title);;;;;;;;it stands still;\n"
        "fuse;fuse blown;;;shelf;M 3;0,01;5;yes;x\n"
        "Pump worn;;pump;The pump;bay;M 4;remote;40;x;\n"
        "leak;;pump;;bay;M 4;2 %;40;no;\n"
    )
    library = _library(text)
    fuse, worn, leak = library.causes.values()
    assert (fuse.title, fuse.probability, fuse.minutes, fuse.manual) == ("fuse blown", 0.01, 5.0, "M 3")
    assert fuse.extra == {"x-place": "shelf"}
    assert (worn.id, worn.title, worn.likelihood.band, worn.item) == ("m/pump-worn", "Pump worn", "remote", "m/pump")
    assert worn.extra == {"x-name": "Pump worn"}
    assert (leak.probability, leak.item) == (0.02, "m/pump")
    pump = library.items["m/pump"]
    assert (pump.title, pump.place, pump.manual, pump.minutes) == ("The pump", "bay", "M 4", 40.0)
    (symptom,) = library.symptoms.values()
    assert (symptom.id, symptom.title) == ("m/m", "it stands still")
    event = library.events[symptom.sees[0][0]]
    assert [one.id for one in event.gate.operands if isinstance(one, model.Ref)] == ["m/fuse", "m/pump-worn"]


def test_a_plain_table_of_crosses_is_enough() -> None:
    """Every cause produces the symptom unless the table says otherwise."""
    library = _library("cause,t1,t2\na,x,\nb,,x\nc,x,x\n", "occasional")
    assert len(library.events["m/m"].gate.operands) == 3
    assert {one.likelihood.band for one in library.causes.values()} == {"occasional"}


REFUSED = [
    ("", " the table is empty; begin it with a row whose first cell is 'cause'"),
    ("a,b\n", "1:1: the first cell is 'a', so this is no dependency matrix; begin the first row with 'cause'"),
    ("cause,t\n", "1:1: the table names no cause; write one in each row below the first"),
    ("cause,likelihood,t,t\na,0.1,x,\nb,0.1,,", "1:4: the column 't' stands here twice; rename or remove one"),
    ("cause,likelihood,t\na,0.1,x\na,0.1,", "3:1: the cause 'a' stands on line 2 already; rename one of the two"),
    ("cause,likelihood,t\n,0.1,x\nb,0.1,", "2:1: a row names no cause; name one, or a row such as (minutes)"),
    ("cause,likelihood,t\na,0.1,x,extra\nb,0.1,", "2:4: 'extra' stands in a column without a name; name the column"),
    ("cause,likelihood,t\n(minute),,5\na,0.1,x\nb,0.1,", "2:1: unknown row '(minute)'; did you mean 'minutes'?"),
    ("cause,likelihood,t\n(by),,\n(by),,\na,0.1,x\nb,0.1,", "3:1: the row '(by)' stands on line 2 already; keep one"),
    ("cause,likelihood,t\n(by),,me\na,0.1,x\nb,0.1,", "2:3: 'me' can answer no check; write crew, line or shop"),
    ("cause,t\na,x\nb,", "2:1: the cause 'a' has no likelihood; write one in the column 'likelihood', or give all"),
    ("cause,likelihood,t\na,2,x\nb,0.1,", "2:2: '2' is no likelihood; write a probability above 0"),
    (
        "cause,likelihood,t\na,0.1,\nb,0.1,",
        "1:3: the check 't' shows the same for each cause; write what shows a cause",
    ),
    ("cause,likelihood,t\n(usual),,yes\na,0.1,yes\nb,0.1,", "1:3: the check 't' shows the same for each cause"),
    ("cause,likelihood,t\n(answers),,p | q\na,0.1,r\nb,0.1,p", "3:3: 'r' is none of the answers; write p or q"),
    (
        "cause,likelihood,t\na,0.1,x\nb,0.1,yess\nc,0.1,",
        "3:3: 'yess' stands in one column with 'x'; write yes or no there too, or list all answers",
    ),
    ("cause,likelihood,symptom,t\na,0.1,no,x\nb,0.1,0,", "1:3: no cause produces the symptom; write yes, 1 or x for"),
    (
        "cause,item,minutes,likelihood,t\na,p,5,0.1,x\nb,p,6,0.1,",
        "3:3: the item 'p' has '6' under 'minutes', and another",
    ),
    (
        "cause,item,item title,likelihood,t\na,p,Left,0.1,x\nb,p,Right,0.1,",
        "3:3: the item 'p' has 'Right' under 'item title', and another",
    ),
    ("cause,likelihood,t\na\u202e,0.1,x\nb,0.1,", "2:1: the cell holds the character U+202E; remove it"),
]


def test_items_whose_names_give_the_same_id_stay_apart() -> None:
    """Causes of one item exclude each other, so no two items may become one; only the case makes no difference."""
    rows = ("a,Pump (A)", "b,Pump A", "c,PUMP A", "d,pump-a")
    table = "cause,item,likelihood,t\n" + "".join(f"{row},0.1,{'x' if row[0] == 'a' else ''}\n" for row in rows)
    found = _library(table)
    assert {cause.id[-1]: cause.item for cause in found.causes.values()} == {
        "a": "m/pump-a-2",
        "b": "m/pump-a-3",
        "c": "m/pump-a-3",
        "d": "m/pump-a",
    }
    assert found.items["m/pump-a-3"].title == "Pump A"


@pytest.mark.parametrize(("text", "message"), REFUSED, ids=[message[:45] for _, message in REFUSED])
def test_what_is_wrong_is_told_with_its_cell(text: str, message: str) -> None:
    """The column of a place counts cells."""
    found = _problems(text)
    assert any(one.startswith(message) for one in found), found


def test_all_problems_come_in_one_run() -> None:
    found = _problems("cause,likelihood,minutes,t\n(x),,,\na,2,soon,maybe\nb,,,x\n")
    assert [one.partition(": ")[0] for one in found] == ["2:1", "3:2", "3:3", "3:4", "4:2"]


@given(
    st.lists(
        st.lists(
            st.sampled_from(
                [
                    "cause",
                    "a",
                    "x",
                    "",
                    "(usual)",
                    "=1",
                    "é",
                    "0.5",
                    "no",
                    "\u202e",
                    "two words",
                    "likelihood",
                    '"',
                    "otherwise",
                    "item",
                    "(answers)",
                    "p: q | r",
                ]
            ),
            max_size=5,
        ),
        max_size=6,
    )
)
@settings(max_examples=200, derandomize=True)
def test_any_table_gives_a_tree_file_or_problems(rows: list[list[str]]) -> None:
    text = "\n".join(",".join(row) for row in [["cause", "likelihood", "t"], *rows])
    found = read_matrix(text.encode(), "m.csv", "m", "remote")
    assert (found.text is None) == bool(found.problems)
    assert all(control(str(one)) is None for one in found.problems)
    if found.text is not None:
        load_texts({"m.yaml": found.text})
