"""`faultree practice` run within the test's own process, with lines as if from a pipe."""

from __future__ import annotations

from click.testing import CliRunner, Result

from faultree.cli.commands import commands

BEST = "listen\nreplace motor\n"
"""What the best strategy does where the motor is dead."""


def practise(*arguments: str, lines: str = "") -> Result:
    """What a command of practice gives."""
    return CliRunner().invoke(commands, ["practice", *arguments], input=lines)


def good(*arguments: str, lines: str = "") -> str:
    """The output of a command that succeeds and complains of nothing."""
    done = practise(*arguments, lines=lines)
    assert (done.exit_code, done.stderr) == (0, ""), done.output
    return done.stdout


def bad(*arguments: str, lines: str = "", code: int = 1) -> str:
    """What a command that fails says, in one line of words."""
    done = practise(*arguments, lines=lines)
    assert done.exit_code == code, done.output
    assert "Traceback" not in done.output
    return " ".join(done.stderr.split())


def set_motor(name: str = "e.json", *more: str) -> str:
    """An exercise file in which the motor is dead."""
    good("set", "still", "--fault", "motor-dead", "-o", name, *more)
    return name
