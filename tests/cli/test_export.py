"""`faultree export` writes each form to a file or to standard output, and says what is left out."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner, Result

from faultree.cli.commands import commands
from faultree.cli.export import FORMS

pytestmark = pytest.mark.usefixtures("here")


def _run(*arguments: str) -> Result:
    return CliRunner().invoke(commands, ["export", *arguments])


@pytest.mark.parametrize("form", FORMS)
def test_each_form_goes_to_a_file_and_to_standard_output(form: str) -> None:
    """The same text; notes never get into it."""
    piped = _run("dark", "--to", form)
    assert piped.exit_code == 0
    saved = _run("dark", "--to", form, "-o", "out.x")
    assert (saved.exit_code, saved.stdout) == (0, "Wrote out.x.\n")
    assert saved.stderr == piped.stderr
    assert Path("out.x").read_bytes().removeprefix(b"\xef\xbb\xbf") == piped.stdout_bytes
    again = _run("dark", "--to", form, "-o", "out.x")
    assert again.exit_code == 1
    assert "is there already" in again.stderr
    assert _run("dark", "--to", form, "-o", "out.x", "--force").exit_code == 0


def test_the_forms_are_what_they_say() -> None:
    assert ElementTree.fromstring(_run("dark", "--to", "open-psa").stdout).tag == "opsa-mef"
    assert _run("dark", "--to", "matrix").stdout.startswith("cause,title,")
    assert "graphml" in ElementTree.fromstring(_run("--to", "graphml").stdout).tag
    whole, part = (json.loads(_run(*words, "--to", "json").stdout) for words in ((), ("dark",)))
    assert len(part["nodes"]) <= len(whole["nodes"])
    assert part["graph"]["symptom"] == "signal/dark"


@pytest.mark.parametrize("form", ["open-psa", "matrix"])
def test_one_symptom_is_needed_for_a_tree_and_a_matrix(form: str) -> None:
    done = _run("--to", form)
    assert done.exit_code == 2
    assert "name it behind 'export'" in done.stderr


def test_an_unknown_symptom_is_said() -> None:
    done = _run("drak", "--to", "json")
    assert done.exit_code == 1
    assert done.stderr == "Error: unknown symptom 'drak'; did you mean 'signal/dark'?\n"
