"""`faultree import` writes a tree file that loads, or one list of problems and nothing at all."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from faultree.cli.commands import commands
from faultree.library.load import load
from tests.published.test_open_psa_exchange import COMPONENTS, HOUSE

BOMB = '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]><opsa-mef>&b;</opsa-mef>'
LOOP = (
    '<opsa-mef><define-fault-tree name="F"><define-gate name="a"><gate name="b"/></define-gate>'
    '<define-gate name="b"><gate name="a"/></define-gate></define-fault-tree></opsa-mef>'
)


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with models to import."""
    monkeypatch.chdir(tmp_path)
    Path("house.xml").write_text(HOUSE, encoding="utf-8")
    Path("parts.xml").write_text(COMPONENTS, encoding="utf-8")
    Path("m.csv").write_text("cause,likelihood,lamp\nfuse,0.1,x\nbulb,0.2,\n", encoding="utf-8")
    return tmp_path


def _run(*arguments: str) -> tuple[int, str, str]:
    """Exit code and what is said; an error becomes words as it does for a user."""
    done = CliRunner().invoke(commands, ["import", *arguments])
    return done.exit_code, done.stdout, done.stderr


def test_a_model_becomes_a_file_that_loads_and_can_be_used() -> None:
    code, out, err = _run("parts.xml", "-o", "mine")
    assert (code, err) == (0, "")
    assert out == "Wrote mine/parts.yaml. See what it lacks with: faultree lint mine/parts.yaml\n"
    assert list(load("mine").symptoms) == ["parts/TOP"]
    for arguments in (["lint", "mine/parts.yaml"], ["rank", "--library", "mine", "parts/TOP"]):
        assert CliRunner().invoke(commands, arguments).exit_code == 0


def test_a_matrix_becomes_a_file_that_loads() -> None:
    code, out, err = _run("m.csv", "-o", "mine", "--name", "New Lamp")
    assert code == 0
    assert out.startswith("Wrote mine/new-lamp.yaml.")
    assert err.startswith("A matrix says what each cause shows alone.")
    assert list(load("mine").checks) == ["new-lamp/lamp"]


def test_without_a_folder_the_text_goes_to_standard_output() -> None:
    code, out, _ = _run("parts.xml")
    assert (code, out.splitlines()[0]) == (0, "faultree: 1")
    assert _run("parts.xml", "-o", "-")[1] == out
    assert {one.name for one in Path().iterdir()} == {"house.xml", "parts.xml", "m.csv"}


def test_open_points_are_options() -> None:
    assert _run("house.xml", "-o", "mine")[0] == 1
    code, _, err = _run("house.xml", "-o", "mine", "--likelihood", "remote")
    assert code == 0
    assert err.startswith("Declared nowhere, and taken for basic events: e2, e1, e3 and e4.\n")
    Path("t.xml").write_text(
        COMPONENTS.replace(
            '<float value="1.2e-3"/>', "<exponential><float value='1e-4'/><system-mission-time/></exponential>"
        ),
        encoding="utf-8",
    )
    assert _run("t.xml")[0] == 1
    assert "rate: 0.0001\n    hours: 12\n" in _run("t.xml", "--hours", "12")[1].replace(", ", "\n    ")


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("--hours", "0"), "0 is not above 0"),
        (("--likelihood", "often"), "'often' is no probability"),
        (("--likelihood", "1"), "'1' is no probability"),
        (("--from", "excel"), "'excel' is not one of"),
    ],
)
def test_wrong_use(arguments: tuple[str, ...], message: str) -> None:
    code, _, err = _run("parts.xml", *arguments)
    assert code == 2
    assert message in err


def test_nothing_is_replaced_unasked() -> None:
    assert _run("parts.xml", "-o", "mine")[0] == 0
    before = Path("mine/parts.yaml").read_bytes()
    Path("parts.xml").write_text(COMPONENTS.replace("TOP", "TIP"), encoding="utf-8")
    assert _run("parts.xml", "-o", "mine")[0] == 1
    assert Path("mine/parts.yaml").read_bytes() == before
    assert _run("parts.xml", "-o", "mine", "--force")[0] == 0
    assert list(load("mine").symptoms) == ["parts/TIP"]
    Path("mine/parts.yaml").rename("mine/parts.yml")
    assert _run("parts.xml", "-o", "mine", "--force")[0] == 1


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (BOMB, "the entity 'a' is declared here"),
        ('<!DOCTYPE x [<!ENTITY a SYSTEM "m.csv">]><opsa-mef>&a;</opsa-mef>', "the entity 'a' is declared here"),
        (
            COMPONENTS.replace('<define-component name="C"', "<include file='m.csv'/><define-component name=\"C\""),
            "'m.csv' is to be included",
        ),
        ("<opsa-mef>" + " " * 10_000_000, "the file has more than 10,000,000 bytes"),
        (COMPONENTS.replace("BE1", "B--E1"), "'B--E1' is no name"),
        (LOOP, "the gate depends on itself: a -> b -> a"),
        ("<opsa-mef>", "this is not well-formed XML"),
        ("", "this is not well-formed XML"),
    ],
    ids=["bomb", "external", "include", "10 MB", "bad name", "loop", "cut short", "empty"],
)
def test_hostile_files_give_an_error_with_a_place_and_write_nothing(content: str, message: str) -> None:
    Path("bad.xml").write_text(content, encoding="utf-8")
    code, out, err = _run("bad.xml", "-o", "mine")
    assert (code, out) == (1, "")
    assert err.startswith("bad.xml:")
    assert message in err
    assert err.endswith("in the file to import; nothing was written.\n")
    assert not Path("mine").exists()


def test_a_name_of_which_no_id_can_be_made_is_refused() -> None:
    Path("2.xml").write_text(COMPONENTS, encoding="utf-8")
    code, out, err = _run("2.xml", "-o", "mine")
    assert (code, out) == (1, "")
    assert "put a word before it: system-2, or give one with --name" in err
    assert not Path("mine").exists()


def test_a_missing_file_and_a_folder_are_told_in_words() -> None:
    assert _run("nothing.xml") == (1, "", "Error: nothing.xml: No such file or directory\n")
    Path("folder.xml").mkdir()
    assert _run("folder.xml") == (1, "", "Error: folder.xml: Is a directory\n")
