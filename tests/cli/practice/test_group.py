"""The group: what is no command of its own begins an exercise, and the help lists every command."""

from __future__ import annotations

from tests.cli.practice.runs import bad, good


def test_help_lists_every_command_with_what_it_does() -> None:
    out = good("--help")
    for name in ("run", "set", "mark", "key", "class", "progress"):
        assert any(line.split()[0] == name and len(line.split()) > 2 for line in out.splitlines() if line.strip())
    assert "find a hidden fault" in out


def test_help_of_a_run_describes_every_option() -> None:
    out = " ".join(good("run", "--help").split())
    for option in ("--level", "--mode", "--code", "--seed", "--exercise", "--next", "--time", "--learner", "--keep",
                   "--resume", "--fresh", "--journal", "--output", "--curve"):  # fmt: skip
        assert option in out


def test_a_symptom_or_an_option_begins_an_exercise() -> None:
    assert good("still", "--seed", "1") == good("run", "still", "--seed", "1") == good("--seed", "1", "still")


def test_an_unknown_option_is_wrong_use() -> None:
    assert "No such option" in bad("--wombat", code=2)
