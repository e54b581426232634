"""Console examples of a document: read as commands with their output, run, and written back."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple

from tests.house.source import ROOT

PROMPT = "$ "
ASKED = re.compile(r"^[A-Z][\w' ]*\?? > (.+)$", re.MULTILINE)
"""A line on which the program asked and someone typed; a walk shows what it read, from a pipe too."""

LIMIT = 60
"""Seconds that one command of a document may take."""


class Step(NamedTuple):
    """One command of a console block and the output that stands below it."""

    command: str
    output: str


def read(block: str) -> list[Step]:
    r"""The steps of a console block; a command whose line ends in a backslash goes on in the next line.

    A block that begins with no command goes on with the dialogue of the block before it: its first step has
    an empty command.

    >>> read("$ echo a\na\n\n$ true\n")
    [Step(command='echo a', output='a'), Step(command='true', output='')]
    """
    steps: list[Step] = []
    goes_on = False
    for line in block.splitlines():
        if goes_on:
            steps[-1] = steps[-1]._replace(command=f"{steps[-1].command}\n{line}")
        elif line.startswith(PROMPT):
            steps.append(Step(line.removeprefix(PROMPT), ""))
        elif steps:
            steps[-1] = steps[-1]._replace(output=f"{steps[-1].output}\n{line}")
        else:
            steps.append(Step("", line))
        goes_on = line.endswith("\\") and (goes_on or line.startswith(PROMPT))
    return [Step(step.command, normal(step.output)) for step in steps]


def write(steps: Iterable[Step]) -> str:
    r"""The text of a console block: each command, its output, and an empty line before the next command.

    >>> write([Step("true", ""), Step("echo a", "a")])
    '$ true\n\n$ echo a\na\n'
    """
    return "\n".join("".join(f"{line}\n" for line in _lines(step)) for step in steps)


def _lines(step: Step) -> list[str]:
    return [*([PROMPT + step.command] if step.command else []), *([step.output] if step.output else [])]


def typed(text: str) -> str:
    r"""What was typed in a dialogue, as lines for standard input.

    >>> typed("Which lamp is lit?\nYour answer > 2\nWhat next? > finish\nx > y")
    '2\nfinish\n'
    """
    return "".join(f"{line}\n" for line in ASKED.findall(text))


def cut(text: str, typed_in_each: Iterable[int]) -> list[str]:
    r"""A dialogue in parts, each of which ends after so many typed lines; the last part is what is left.

    >>> cut("a\nGo on? > yes\nb\nGo on? > yes\nc", [1])
    ['a\nGo on? > yes', 'b\nGo on? > yes\nc']
    """
    ends = [found.end() for found in ASKED.finditer(text)]
    parts, start, count = [], 0, 0
    for more in typed_in_each:
        count += more
        end = ends[count - 1] if 0 < count <= len(ends) else start
        parts.append(normal(text[start:end]))
        start = end
    return [*parts, normal(text[start:])]


def normal(text: str) -> str:
    """A text without spaces at the ends of lines and without empty lines at its own ends."""
    return "\n".join(line.rstrip() for line in text.splitlines()).strip("\n")


class Shell:
    """A place where commands of a document run: a folder with the demonstration library, nothing else.

    The screen is 80 columns wide and has no colour; `faultree` is the one under test.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder / "here"
        tools = folder / "tools"
        for needed in (self.folder, tools, folder / "home"):
            needed.mkdir()
        shutil.copytree(ROOT / "trees", self.folder / "trees")
        command = tools / "faultree"
        command.write_text(f'#!/bin/sh\nexec {shlex.quote(sys.executable)} -m faultree "$@"\n', encoding="utf-8")
        command.chmod(0o755)
        kept = {name: value for name, value in os.environ.items() if not name.startswith(("XDG_", "LC_", "FAULTREE"))}
        self._variables = {
            **kept,
            "PATH": f"{tools}{os.pathsep}{os.environ['PATH']}",
            "PYTHONPATH": str(ROOT),
            "PYTHONUTF8": "1",
            "PYTHONUNBUFFERED": "1",
            "HOME": str(folder / "home"),
            "COLUMNS": "80",
            "LINES": "24",
            "NO_COLOR": "1",
            "TZ": "UTC",
        }

    def run(self, command: str, answers: str = "") -> str:
        """What the command shows, standard error included; fails when it ends with another code than 0.

        `answers` is what it reads from standard input.

        A command that is meant to fail is written with `; echo "exit code $?"` behind it.
        """
        done = subprocess.run(
            ["sh", "-c", command],
            cwd=self.folder,
            env=self._variables,
            input=answers,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            encoding="utf-8",
            timeout=LIMIT,
            check=False,
        )
        assert done.returncode == 0, f"exit code {done.returncode} of `{command}`:\n{done.stdout}"
        return normal(done.stdout)
