"""Groups of commands that are imported when they are asked for."""

from __future__ import annotations

import subprocess
import sys

import pytest
from click.testing import CliRunner

from faultree.cli.commands import commands
from faultree.cli.debrief.group import command as debrief
from faultree.cli.journal.group import command as journal
from faultree.cli.lazy import LazyGroup
from faultree.cli.practice.group import command as practice
from tests.cli.test_complete import offered

GROUPS = (debrief, journal, practice)


pytestmark = pytest.mark.usefixtures("here")


@pytest.mark.parametrize("group", GROUPS)
def test_every_name_leads_to_a_command_of_that_name(group: LazyGroup) -> None:
    """The table of modules and what the modules hold cannot part."""
    with group.make_context(str(group.name), ["--help"], resilient_parsing=True) as context:
        for name in group.list_commands(context):
            found = group.get_command(context, name)
            assert found is not None
            assert found.name == name
        assert group.get_command(context, "nothing") is None


@pytest.mark.parametrize("words", [["journal", "nothing"], ["journal"]])
def test_a_group_without_a_default_asks_for_a_command(words: list[str]) -> None:
    done = CliRunner().invoke(commands, words)
    assert done.exit_code == 2
    assert "Usage: " in done.output


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("debrif", "no such command 'debrif'; did you mean 'debrief'?"),
        ("xyzzy", "no such command 'xyzzy'; the commands are walk, rank, why"),
        ("debrief beginn", "no such command 'beginn'; did you mean 'begin'?"),
        ("debrief beginn --help", "no such command 'beginn'; did you mean 'begin'?"),
        ("debrief list", "'faultree journal list' lists the cases"),
        ("debrief list --help", "'faultree journal list' lists the cases"),
        ("debrief show 4", "'faultree journal show CASE' shows a case with its log"),
        ("debrief 4", "'faultree debrief continue 4' goes on with case 4"),
        ("debrief xyzzy", "the commands are begin, continue, add"),
        ("journal shwo 4", "did you mean 'show'?"),
    ],
)
def test_a_word_that_is_no_command_says_what_may_be_meant(words: str, said: str) -> None:
    done = CliRunner().invoke(commands, words.split())
    assert done.exit_code == 2
    assert said in " ".join(done.output.split())


@pytest.mark.parametrize(("word", "own"), [("practice", "progress"), ("debrief", "sheet")])
def test_help_of_a_group_is_not_that_of_its_default(word: str, own: str) -> None:
    done = CliRunner().invoke(commands, [word, "-h"])
    assert done.exit_code == 0
    assert own in done.output


def test_what_is_no_command_belongs_to_the_default() -> None:
    """An unknown symptom is what the default says of it, not an unknown command."""
    done = CliRunner().invoke(commands, ["practice", "no-such-symptom", "--fresh"])
    assert done.exit_code == 1
    assert "unknown symptom 'no-such-symptom'" in done.output


def test_a_shell_is_offered_the_commands_and_what_the_default_takes() -> None:
    assert offered("faultree practice ")[-5:] == ["progress", "show", "dark", "doubly-bad", "button-lamp"]
    assert offered("faultree practice d") == ["dark", "doubly-bad"]
    assert offered("faultree practice pro") == ["progress"]
    assert offered("faultree practice --se") == ["--seed"]
    assert offered("faultree practice mark --js") == ["--json"]
    assert offered("faultree debrief --fl") == ["--flight"]
    assert offered("faultree journal wh") == ["where"]


def test_groups_import_no_command_unasked() -> None:
    """Each command loads what it needs only when it is meant."""
    code = (
        "import sys; import faultree.cli.practice, faultree.cli.debrief, faultree.cli.journal; "
        "sys.exit(any(name in sys.modules for name in ('faultree.cli.practice.run', 'faultree.cli.debrief.begin')))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
