"""A new file is sound from the start, has a name that is an id, and takes the place of none."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from faultree.cli.commands import commands


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _run(*arguments: str) -> Result:
    return CliRunner().invoke(commands, list(arguments))


def test_a_new_file_lints_clean(here: Path) -> None:
    done = _run("new", "trees/left-door.yaml")
    assert (done.exit_code, done.stderr) == (0, "")
    assert done.stdout.startswith("Wrote trees/left-door.yaml, the system 'left-door', in the new folder trees.\n")
    assert [one.name for one in here.rglob("*.yaml")] == ["left-door.yaml"]
    assert "title: Left door\n" in Path("trees/left-door.yaml").read_text(encoding="utf-8")
    for command in (("lint",), ("tidy", "--check"), ("lint", "trees/left-door.yaml")):
        done = _run(*command)
        assert (done.exit_code, done.stderr) == (0, ""), command


def test_each_command_that_it_tells_works() -> None:
    """Also where the folder has a space in its name."""
    done = _run("new", "my trees/left-door")
    told = [shlex.split(line.partition("faultree ")[2]) for line in done.stdout.splitlines()[1:]]
    assert [words[0] for words in told] == ["lint", "schema", "rank"]
    for words in told:
        assert _run(*(word for word in words if word != "--watch")).exit_code == 0, words
    assert Path("my trees/faultree.schema.json").exists()


@pytest.mark.parametrize(
    ("given", "path"),
    [
        ("Left Door", "left-door.yaml"),
        ("Left Door.YML", "left-door.YML"),
        ("a.b", "a-b.yaml"),
        ("trees/../Öl", "trees/../ol.yaml"),
    ],
)
def test_the_name_becomes_an_id(given: str, path: str) -> None:
    Path("trees").mkdir()
    done = _run("new", given)
    assert done.exit_code == 0
    assert done.stdout.startswith(f"Wrote {path}, ")
    assert Path(path).exists()


def test_a_further_file_needs_no_example() -> None:
    """The example would be in the way of an author who has seen it; what is told to try names its own file."""
    assert _run("new", "trees/door").stdout.endswith(" --library trees door/stays-cold\n")
    done = _run("new", "trees/gate", "--empty")
    assert (done.exit_code, done.stderr) == (0, "")
    assert "rank" not in done.stdout
    assert "causes:" in Path("trees/gate.yaml").read_text(encoding="utf-8")
    assert _run("lint").stdout.startswith("trees: no problems (2 systems, 6 causes,")
    assert _run("rank", "door/stays-cold").exit_code == 0


def test_a_title_of_its_own() -> None:
    assert _run("new", "door", "--title", "Door 2: left").exit_code == 0
    assert "title: 'Door 2: left'\n" in Path("door.yaml").read_text(encoding="utf-8")
    done = _run("new", "gate", "--title", "a\x1bb")
    assert (done.exit_code, done.stdout) == (1, "")
    assert "the character U+001B does not belong in a text file" in done.stderr
    assert not Path("gate.yaml").exists()


@pytest.mark.parametrize("there", ["door.yaml", "door.yml"])
def test_nothing_is_ever_replaced(there: str) -> None:
    """Neither the file itself, nor one that gives the same id, nor a link that leads nowhere."""
    Path(there).write_text("mine", encoding="utf-8")
    done = _run("new", "door.yaml")
    assert (done.exit_code, done.stdout) == (1, "")
    assert done.stderr == f"Error: {there} is there already, and is left as it is; give the new system another name.\n"
    assert Path(there).read_text(encoding="utf-8") == "mine"
    Path("gate.yaml").symlink_to("nowhere")
    assert _run("new", "gate").exit_code == 1
    assert not Path("nowhere").exists()


def test_a_name_that_can_be_no_id() -> None:
    done = _run("new", "737.yaml")
    assert done.exit_code == 1
    assert done.stderr == "Error: an id begins with a letter, and '737' does not; put a word before it: system-737.\n"
    assert list(Path().iterdir()) == []
    assert _run("new", "").exit_code == 1
    assert _run("new").exit_code == 2
