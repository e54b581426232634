"""Documents do what they say: every example runs, every command is described, every link leads somewhere."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from tests.house import console
from tests.house.documents import Book
from tests.house.source import ROOT, documents, name

LANGUAGES = {
    "console": "run, and compared with what it shows",
    "python": "run as a doctest",
    "yaml": "loaded: a whole tree file, or a piece of one that can stand by itself",
    "yaml added": "added to the system of the page of rules, and linted there by tests/strategy/lint/test_table.py",
    "text": "a picture or a formula, nothing to run",
    "sh": "set-up commands; the ones of the README are run by .ci/run",
}

needs_sh = pytest.mark.skipif(shutil.which("sh") is None, reason="console examples are written for a POSIX shell")


@needs_sh
@pytest.mark.parametrize("path", documents(), ids=name)
def test_every_example_runs(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest
) -> None:
    """What a document shows is what the program does now."""
    shell = console.Shell(tmp_path)
    monkeypatch.chdir(shell.folder)
    failures = list(Book(path, shell, rewrite=request.config.getoption("rewrite_docs")).run())
    assert not failures, "\n\n".join(failures)


@pytest.mark.parametrize("path", documents(), ids=name)
def test_every_block_says_its_language(path: Path) -> None:
    """A block whose language is not known here would stand in the document untested."""
    fences = re.findall(r"^ *```(.*)$", path.read_text(encoding="utf-8"), re.MULTILINE)
    assert set(fences[0::2]) <= set(LANGUAGES)
    assert set(fences[1::2]) <= {""}


def test_the_readme_has_two_commands() -> None:
    """The section "Two commands" has exactly two `sh` blocks, and there are no others."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    section = re.search(r"^## Two commands$(.*?)^## ", text, re.MULTILINE | re.DOTALL)
    assert section is not None
    assert section[1].count("```sh\n") == 2
    assert text.count("```sh\n") == 2


@pytest.mark.parametrize("path", documents(), ids=name)
def test_every_link_leads_somewhere(path: Path) -> None:
    """A link between documents names a file that is there."""
    for target in re.findall(r"\]\(([^)#\s]+)(?:#[^)]*)?\)", path.read_text(encoding="utf-8")):
        if "://" not in target:
            assert (path.parent / target).exists(), target


def test_the_library_notice_is_on_every_first_page() -> None:
    """Whoever opens the README or the trainee's page reads who decides."""
    for path in (ROOT / "README.md", ROOT / "docs" / "trainee.md", ROOT / "docs" / "safety.md"):
        text = " ".join(path.read_text(encoding="utf-8").split()).casefold()
        assert "approved maintenance manual" in text, name(path)
        assert "licensed engineer" in text, name(path)


def test_every_benchmark_is_listed() -> None:
    """A figure that nobody knows how to measure again is no figure."""
    text = (ROOT / "docs" / "benchmarks.md").read_text(encoding="utf-8")
    folder = ROOT / "tests" / "benchmarks"
    scripts = {path.stem for kind in ("bench", "study", "fuzz") for path in folder.glob(f"{kind}*.py")}
    listed = set(re.findall(r"python -m tests\.benchmarks\.(\w+)", text))
    assert scripts - {"fuzz_targets"} == listed  # a module of fuzz


def test_a_wrong_output_is_found(tmp_path: Path) -> None:
    """The runner of examples can fail: a document that shows something else is refused, and then mended."""
    page = tmp_path / "page.md"
    page.write_text("# Page\n\n```console\n$ echo right\nwrong\n```\n\nEnd.\n", encoding="utf-8")
    (failure,) = Book(page, console.Shell(_folder(tmp_path))).run()
    assert "-wrong" in failure
    assert "+right" in failure
    assert list(Book(page, console.Shell(_folder(tmp_path)), rewrite=True).run()) == []
    assert page.read_text(encoding="utf-8") == "# Page\n\n```console\n$ echo right\nright\n```\n\nEnd.\n"


def test_a_dialogue_may_run_over_several_blocks(tmp_path: Path) -> None:
    """What a reader would type is read from the page; a block without a command goes on with the one before."""
    ask = """sh -c 'for i in 1 2; do read a; echo "Number $i > $a"; echo; echo "got $a"; done'"""
    page = tmp_path / "page.md"
    stub = f"```console\n$ {ask}\nNumber 1 > five\n```\n\nThen:\n\n```console\nNumber 2 > six\n```\n"
    page.write_text(stub, encoding="utf-8")
    assert list(Book(page, console.Shell(_folder(tmp_path)), rewrite=True).run()) == []
    full = (
        f"```console\n$ {ask}\nNumber 1 > five\n```\n\nThen:\n\n```console\ngot five\nNumber 2 > six\n\ngot six\n```\n"
    )
    assert page.read_text(encoding="utf-8") == full
    page.write_text(full.replace("got six", "got seven"), encoding="utf-8")
    (failure,) = Book(page, console.Shell(_folder(tmp_path))).run()
    assert "+got six" in failure


def test_a_block_of_yaml_is_loaded(tmp_path: Path) -> None:
    """A piece that does not load is refused, whole or not."""
    page = tmp_path / "page.md"
    page.write_text("```yaml\nitems:\n  i: {title: I}\n```\n\n```yaml\nitmes:\n```\n", encoding="utf-8")
    (failure,) = Book(page, console.Shell(_folder(tmp_path))).run()
    assert "did you mean 'items'?" in failure


def test_a_block_may_be_a_file_for_the_commands_behind_it(tmp_path: Path) -> None:
    """A page can write a file step by step; at its end the file must load."""
    page = tmp_path / "page.md"
    text = (
        "<!-- file: mine/a.yaml -->\n\n```yaml\nfaultree: 1\ntitle: T\n```\n\n"
        "<!-- add to: mine/a.yaml -->\n\n```yaml\nitems:\n  i: {title: I}\n```\n\n"
        "```console\n$ cat mine/a.yaml\nfaultree: 1\ntitle: T\n\nitems:\n  i: {title: I}\n```\n"
    )
    page.write_text(text, encoding="utf-8")
    assert list(Book(page, console.Shell(_folder(tmp_path))).run()) == []
    page.write_text(text.partition("```console")[0].replace("title: I", "titel: I"), encoding="utf-8")
    assert "did you mean 'title'?" in "\n".join(Book(page, console.Shell(_folder(tmp_path))).run())


def _folder(parent: Path) -> Path:
    new = parent / f"shell-{len(list(parent.iterdir()))}"
    new.mkdir()
    return new


def test_a_failing_command_must_say_so(tmp_path: Path) -> None:
    """A command of a document that ends with an error is an error, unless its exit code is shown."""
    shell = console.Shell(tmp_path)
    with pytest.raises(AssertionError, match="exit code 3"):
        shell.run("exit 3")
    assert shell.run('(exit 3); echo "exit code $?"') == "exit code 3"
