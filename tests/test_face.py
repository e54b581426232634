"""The public face: what one line of Python gets, by the names that the documents promise."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import faultree
from tests.belief.small import PUMP

TEXT = f"faultree: 1\ntitle: Small\n{PUMP}"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder that holds one tree file."""
    (tmp_path / "s.yaml").write_text(TEXT, encoding="utf-8")
    return tmp_path


def test_a_folder_is_loaded_and_asked(folder: Path) -> None:
    """The example that every document gives, in short."""
    library = faultree.load(folder)
    case = library.case("still").answer("feel", "yes")
    assert case.ranking()[0].cause == "s/valve"
    assert case.bound == 0.0


def test_a_chart_is_compiled(folder: Path) -> None:
    """With a goal, for some people, within some time."""
    library = faultree.load(folder)
    chart = library.chart("still", goal="cause", by=["crew", "line"], limit_s=5.0)
    assert chart.symptoms == ("s/still",)
    assert (chart.goal, chart.by) == ("cause", ("crew", "line"))
    assert chart.lower_bound <= chart.expected_minutes
    assert library.chart(["still"], limit_s=5.0).symptoms == ("s/still",)


def test_a_folder_can_be_named_by_text_or_path(folder: Path) -> None:
    assert faultree.load(str(folder)).digest == faultree.load(folder).digest


def test_texts_in_memory_make_the_same_library(folder: Path) -> None:
    found, loaded = faultree.load_texts({"s.yaml": TEXT}), faultree.load(folder)
    assert isinstance(found, faultree.Library)
    assert (found.causes, found.checks, found.digest) == (loaded.causes, loaded.checks, loaded.digest)


def test_a_case_holds_the_library_that_opened_it() -> None:
    library = faultree.load_texts({"s.yaml": TEXT})
    case = library.case("still", "no-reading")
    assert isinstance(case, faultree.Case)
    assert case.library is library
    assert case.symptoms == ("s/still", "s/no-reading")


def test_a_case_comes_back_from_its_saved_form() -> None:
    library = faultree.load_texts({"s.yaml": TEXT})
    case = library.case("still").answer("read", "no")
    assert faultree.Case.from_dict(library, case.to_dict()) == case


def test_a_library_gives_the_tree_the_cut_sets_and_the_importance_of_a_symptom(folder: Path) -> None:
    """All three speak of the same causes, by full ids, from a short id."""
    library = faultree.load(folder)
    tree, sets, found = library.fault_tree("still"), library.cut_sets("still"), library.importance("still")
    assert tree.symptom == sets.symptom == found.symptom == "s/still"
    assert isinstance(sets, tuple)
    assert sets.complete
    assert all(isinstance(one, frozenset) for one in sets)
    assert {name for one in sets for name in one} <= {row.cause for row in found} == set(tree.causes)
    assert library.cut_sets("still", max_order=0, least_probability=0.5, most=1) == ()
    assert found.exact


def test_what_is_wrong_is_raised_with_every_problem() -> None:
    """All of them at once, by an error of the package."""
    wrong = TEXT.replace("item: gauge", "item: gage").replace("reads: moves", "reads: mvoes")
    with pytest.raises(faultree.LibraryError) as raised:
        faultree.load_texts({"s.yaml": wrong})
    assert len(raised.value.problems) == 3
    assert isinstance(raised.value, faultree.FaultreeError)


def test_unknown_names_and_contradictions_are_errors_of_the_package() -> None:
    case = faultree.load_texts({"s.yaml": TEXT}).case("still")
    with pytest.raises(faultree.UnknownName):
        case.answer("nothing", "yes")
    with pytest.raises(faultree.CaseError):
        case.undo()
    with pytest.raises(faultree.Contradiction) as raised:
        case.answer("try", "yes")
    assert raised.value.answers == (("s/try", "yes"),)
    for error in (faultree.UnknownName, faultree.CaseError, faultree.Contradiction, faultree.LibraryError):
        assert issubclass(error, faultree.FaultreeError)


@pytest.mark.parametrize("name", faultree.__all__)
def test_every_public_name_is_there(name: str) -> None:
    """And is kept once it was loaded."""
    assert getattr(faultree, name) is getattr(faultree, name)
    assert name in vars(faultree)


def test_a_name_that_is_not_public_is_missing_in_the_usual_words() -> None:
    with pytest.raises(AttributeError, match="module 'faultree' has no attribute 'nothing'"):
        faultree.nothing  # type: ignore[attr-defined]  # noqa: B018  # that it raises is the point


def test_a_star_import_brings_the_public_names() -> None:
    space: dict[str, object] = {}
    exec("from faultree import *", space)
    assert set(faultree.__all__) - {"__version__"} <= set(space)


def test_importing_the_package_loads_nothing_else() -> None:
    """Its names are loaded when they are first used, so that asking for the version costs nothing."""
    code = (
        "import sys, faultree; assert faultree.__version__; "
        "print(sorted(name for name in sys.modules if name.startswith('faultree.') or name in ('numpy', 'yaml')))"
    )
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert shown.stdout.strip() == "[]"
