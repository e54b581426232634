"""The completion scripts, in the shells themselves where they are installed."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from click.shell_completion import get_completion_class
from click.testing import CliRunner

from faultree.cli import completion
from faultree.cli.about import COMPLETE
from faultree.cli.commands import commands
from faultree.cli.completion import LINES
from tests.cli.desks import small_trees
from tests.house.source import ROOT


@pytest.fixture
def here(tmp_path: Path) -> Path:
    """A folder with the small library, and a command `faultree` beside it."""
    small_trees(tmp_path)
    program = tmp_path / "bin" / "faultree"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nPYTHONPATH="{ROOT}" exec "{sys.executable}" -m faultree "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    return tmp_path


def _in_shell(shell: str, script: str, here: Path) -> list[str]:
    """The lines that a script writes in a shell that has read the completion script."""
    found = shutil.which(shell)
    if found is None:
        pytest.skip(f"no {shell} here")
    environ = {**os.environ, "PATH": f"{here / 'bin'}{os.pathsep}{os.environ['PATH']}"}
    done = subprocess.run(
        [found, "-c", script], cwd=here, env=environ, capture_output=True, text=True, check=True, timeout=30
    )
    assert done.stderr == ""
    return done.stdout.splitlines()


LINES_IN_BASH = (
    ("faultree rank dark --answer cl", "=", "click=silence click=click click=?"),
    ("faultree rank dark --answer click=s", "=", "silence"),
    ("faultree rank dark --answer=click=s", "=", "silence"),
    ("faultree rank dark --answer=vol", "=", "voltage=yes voltage=no voltage=?"),
    ("faultree rank dark --answer click=s", "", "click=silence"),
    ("faultree rank 'dark' --answer 'click=s", "=", "silence"),
)
"""A line, whether "=" parts words in it, and what bash is to put in."""


def test_bash_gets_what_it_puts_in(here: Path) -> None:
    """Bash puts a completion behind the last "=", unless its user told it that this sign parts no words."""
    script = ['eval "$(faultree completion bash)"']
    for line, breaks, _ in LINES_IN_BASH:
        script += [
            f"COMP_LINE={_quoted(line)} COMP_POINT={len(line)} COMP_WORDBREAKS=' {breaks}'",
            '_faultree_completion faultree; echo "${COMPREPLY[@]}"',
        ]
    assert _in_shell("bash", "\n".join(script), here) == [words for _, _, words in LINES_IN_BASH]


def test_bash_completes_at_the_keyboard(here: Path) -> None:
    """Typed at a terminal, with the key that completes: the command, the report, and both halves of the answer."""
    ptys = pytest.importorskip("tests.terminal.ptys", reason="no terminals of this kind here")
    if shutil.which("bash") is None:
        pytest.skip("no bash here")
    environ = {"PATH": f"{here / 'bin'}{os.pathsep}{os.environ['PATH']}", "PS1": "here> "}
    with ptys.terminal(["bash", "--norc", "--noprofile", "-i"], folder=here, environ=environ, columns=120) as at:
        at.type('eval "$(faultree completion bash)" && echo re""ady\n')
        at.wait("ready")
        at.type("faultree ra\t")
        at.wait("faultree rank ")
        at.type("doub\t")
        at.wait("doubly-bad ")
        at.type("--answer cli\t")
        at.wait("click=")
        at.type("si\t")
        assert "faultree rank doubly-bad --answer click=silence" in at.wait("silence ")


def test_fish_completes_with_titles(here: Path) -> None:
    """Fish asks for completions itself, so the whole way is tested."""
    ask = "complete -C 'faultree rank dark --answer click='"
    found = _in_shell("fish", f"faultree completion fish | source\n{ask}", here)
    assert "click=silence\tNothing" in found


@pytest.mark.parametrize("shell", ["zsh", "bash", "fish"])
def test_a_shell_reads_its_script(here: Path, shell: str) -> None:
    """Without a complaint."""
    script = CliRunner().invoke(commands, ["completion", shell]).stdout
    (here / "script").write_text(script, encoding="utf-8")
    assert _in_shell(shell, f"{shell} -n script", here) == []


@pytest.mark.parametrize("shell", LINES)
def test_the_script_says_where_it_belongs(shell: str) -> None:
    """In its first line; a shell that the installed click does not know is refused in words."""
    done = CliRunner().invoke(commands, ["completion", shell])
    if get_completion_class(shell) is None:
        assert done.exit_code == 1
        assert "version 8.5" in done.stderr
    else:
        assert done.exit_code == 0
        assert done.stdout.splitlines()[0] == f"# Belongs into {LINES[shell]}"
        assert COMPLETE in done.stdout


def test_a_shell_that_is_not_known_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(completion, "get_completion_class", lambda shell: None)
    done = CliRunner().invoke(commands, ["completion", "powershell"])
    assert (done.exit_code, done.stdout) == (1, "")
    assert "version 8.5 and later can" in done.stderr


@pytest.mark.parametrize("asked", ["bash_complete", "bash_nonsense", "nonsense_complete", "nonsense"])
def test_a_shell_never_gets_an_error_into_its_line(asked: str) -> None:
    """Not even where it asks in a way that is none."""
    done = CliRunner().invoke(commands, [], env={COMPLETE: asked})
    assert (done.stdout, done.stderr) == ("", "")
    assert done.exit_code == 1


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "'\\''") + "'"
