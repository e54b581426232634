"""`walk` keeps and resumes as its options say; a script is never asked."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from faultree.cli.commands import commands
from faultree.terminal import files


@pytest.fixture(autouse=True)
def here(here: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder whose `trees` hold the small library, and a home of its own."""
    monkeypatch.setenv("HOME", str(here / "home"))
    monkeypatch.setenv("USERPROFILE", str(here / "home"))
    for name in ("XDG_STATE_HOME", "LOCALAPPDATA", "FAULTREE_STATE"):
        monkeypatch.delenv(name, raising=False)
    return here


def _run(*arguments: str, lines: str = "") -> Result:
    return CliRunner().invoke(commands, ["walk", *arguments], input=lines)


def _kept(here: Path, folder: str = "state") -> list[dict[str, object]]:
    return [files.load(path) for path in sorted((here / folder / "walks").glob("*.yaml"))]


def test_a_script_keeps_nothing_and_is_not_asked_unless_it_says_so(here: Path) -> None:
    """Answers from a pipe are in the pipe already."""
    assert _run("dark", lines="ok\n1\n").exit_code == 0
    assert not (here / "home").exists()
    assert _run("dark", "--keep", "--state", "state", lines="ok\n1\n").exit_code == 0
    assert len(_kept(here)) == 1
    out = _run("dark", "--keep", "--state", "state", lines="ok\n2\n").stdout
    assert "Kept" not in out.partition("The input has ended")[0]
    assert len(_kept(here)) == 2


def test_the_newest_is_resumed_without_asking(here: Path) -> None:
    """And goes on in its own file."""
    _run("dark", "--keep", "--state", "state", lines="ok\n1\n")
    out = _run("--resume", "--state", "state", lines="ok\nnote more\n").stdout
    assert "Listen to the relay: What do you hear? Nothing" in out
    (data,) = _kept(here)
    assert "more" in str(data["walk"])


def test_named_reports_resume_only_their_own_walk() -> None:
    """Another report's walk is not what was meant."""
    _run("dark", "--keep", "--state", "state", lines="ok\n1\n")
    done = _run("button-lamp", "--resume", "--state", "state")
    assert done.exit_code == 1
    assert "no walk is kept" in " ".join(done.stderr.split())
    assert _run("dark", "--resume", "--state", "state", lines="ok\n").exit_code == 0


def test_nothing_to_resume_is_exit_code_1(here: Path) -> None:
    """With the remedy."""
    done = _run("--resume", "--state", "state")
    assert done.exit_code == 1
    assert "leave --resume out to begin one" in " ".join(done.stderr.split())
    assert not (here / "state").exists()


def test_the_folder_can_be_named_by_the_environment(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As scripts and shared machines want it."""
    monkeypatch.setenv("FAULTREE_STATE", str(here / "elsewhere"))
    _run("dark", "--keep", lines="ok\n1\n")
    assert len(_kept(here, "elsewhere")) == 1


def test_without_a_home_the_walk_goes_on_and_says_that_it_is_not_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """Some accounts have none; a folder can be named."""

    def homeless() -> Path:
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.setattr(Path, "home", homeless)
    done = _run("dark", "--keep", lines="ok\n1\n")
    assert done.exit_code == 0
    assert "Name a folder with --state" in done.stderr
    assert "Step 2" in done.stdout


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--resume", "--fresh"), "name one of them"),
        (("--resume", "--case", "a.yaml"), "name one of them"),
        (("dark", "--keep", "--state", "trees"), "is inside the folder of the tree files"),
        (("dark", "--keep", "--state", "trees/deeper"), "is inside the folder of the tree files"),
    ],
)
def test_wrong_use_is_exit_code_2(arguments: tuple[str, ...], words: str) -> None:
    """Two ways to begin at once; walks among the tree files, where lint would read them."""
    done = _run(*arguments)
    assert done.exit_code == 2
    assert words in " ".join(done.stderr.split())
