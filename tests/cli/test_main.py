"""The program as a process: start, pipes that break, streams that cannot show everything, keys that stop it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from faultree import __version__
from tests.cli.desks import small_trees
from tests.walk.small import SIGNAL

FAULTREE = [sys.executable, "-m", "faultree"]


@pytest.fixture
def here(tmp_path: Path) -> Path:
    """A folder whose `trees` hold the small library."""
    return small_trees(tmp_path)


def _environ(**more: str) -> dict[str, str]:
    root = str(Path(__file__).parents[2])
    kept = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "COLUMNS", "PYTHONUTF8")}
    return {**kept, "PYTHONPATH": root, **more}


def _run(folder: Path, *arguments: str, stdin: bytes = b"", **environ: str) -> tuple[int, bytes, bytes]:
    done = subprocess.run(
        [*FAULTREE, *arguments],
        input=stdin,
        capture_output=True,
        cwd=folder,
        env=_environ(**environ),
        timeout=60,
        check=False,
    )
    return done.returncode, done.stdout, done.stderr


def test_the_version_is_that_of_the_package(here: Path) -> None:
    """One line."""
    assert _run(here, "--version") == (0, f"faultree {__version__}{os.linesep}".encode(), b"")


@pytest.mark.parametrize(("given", "taken"), [(None, "1"), ("3", "3")])
def test_products_of_matrices_stay_in_one_thread_unless_somebody_said_otherwise(
    here: Path, given: str | None, taken: str
) -> None:
    """It is said before numpy is loaded, or it would be too late."""
    code = (
        "import os, sys\nfrom faultree.cli.main import main\nearly = 'numpy' in sys.modules\n"
        "sys.argv = ['faultree', 'rank', 'dark']\ntry:\n    main()\nfinally:\n"
        "    print(early, 'numpy' in sys.modules, os.environ['OPENBLAS_NUM_THREADS'])"
    )
    environ = _environ()
    environ.pop("OPENBLAS_NUM_THREADS", None)
    environ |= {"OPENBLAS_NUM_THREADS": given} if given else {}
    done = subprocess.run([sys.executable, "-c", code], cwd=here, env=environ, capture_output=True, check=False)
    assert done.stdout.decode().splitlines()[-1] == f"False True {taken}"


def test_a_walk_from_a_pipe(here: Path) -> None:
    """Answers as lines; what is not understood is said, and the next line is read."""
    code, out, err = _run(here, "walk", "dark", stdin=b"ok\nwhat?\n1\nfinish\nquit\n")
    assert (code, err) == (0, b"")
    text = out.decode()
    assert "'what?' is not understood here" in text
    assert "isten to the relay: What do you hear? Nothing" in text
    assert text.rstrip().endswith("Goodbye.")
    assert "\x1b" not in text


@pytest.mark.skipif(os.name == "nt", reason="a closed pipe shows itself otherwise there")
@pytest.mark.parametrize("arguments", [["rank", "dark", "--json"], ["rank", "dark"], ["walk", "dark"], [], ["lint"]])
def test_a_reader_that_leaves_is_no_error(here: Path, arguments: list[str]) -> None:
    """As with `| head`: silence, and no exit code that would stop a script."""
    read, write = os.pipe()
    os.close(read)
    try:
        done = subprocess.run(
            [*FAULTREE, *arguments], stdin=subprocess.DEVNULL, stdout=write, stderr=subprocess.PIPE,
            cwd=here, env=_environ(), timeout=60, check=False,
        )  # fmt: skip
    finally:
        os.close(write)
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-8"])
def test_any_output_encoding_is_served(here: Path, encoding: str) -> None:
    """A title with signs that the stream cannot show is shown as well as it goes."""
    text = SIGNAL.replace("title: look at the supply light", "title: look at the “supply” light ≥ Ø 5 Ω")
    (here / "trees" / "signal.yaml").write_text(text, encoding="utf-8")
    code, out, err = _run(here, "walk", "dark", stdin="ok\nnote Ω\n".encode(), PYTHONIOENCODING=encoding)
    assert (code, err) == (0, b"")
    assert "supply" in out.decode(encoding)
    code, out, _ = _run(here, "why", "dark", "supply-seen", "--json", PYTHONIOENCODING=encoding)
    assert code == 0
    assert out.decode(encoding)


def test_bytes_that_are_no_text_are_read_all_the_same(here: Path) -> None:
    """Noise in the pipe is a line that is not understood."""
    code, out, err = _run(here, "walk", "dark", stdin=b"ok\n\xff\xfe\x00\x1b[2J\n1\n")
    assert (code, err) == (0, b"")
    assert b"not understood here" in out
    assert b"\x1b" not in out


@pytest.mark.skipif(os.name == "nt", reason="signals are sent otherwise there")
def test_an_interruption_ends_a_piped_walk_in_words(here: Path) -> None:
    """No traceback; the case is said to be unsaved."""
    walk = subprocess.Popen(
        [*FAULTREE, "walk", "dark"],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=here, env=_environ(),
    )  # fmt: skip
    assert walk.stdin is not None
    assert walk.stdout is not None
    walk.stdin.write(b"ok\n1\n")
    walk.stdin.flush()
    seen = b""
    while b"Step 2" not in seen:
        seen += os.read(walk.stdout.fileno(), 65536)
    time.sleep(0.3)  # until it waits for the next line
    walk.send_signal(signal.SIGINT)
    out, err = walk.communicate(timeout=30)
    assert (walk.returncode, err) == (0, b"")
    assert b"The case is not saved yet" in seen + out


@pytest.mark.skipif(os.name == "nt", reason="written for a POSIX shell")
@pytest.mark.parametrize("arguments", ["rank dark", "walk dark", "", "lint", "--version", "--help", "schema"])
def test_streams_that_were_closed_before_the_start_are_no_error(here: Path, arguments: str) -> None:
    """As a service starts a program: what would be written goes nowhere, what would be read is at its end."""
    program = f'"{sys.executable}" -m faultree {arguments}'
    done = subprocess.run(f"{program} >&- <&-", shell=True, cwd=here, env=_environ(), capture_output=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
    assert subprocess.run(f"{program} 2>&- <&- >&-", shell=True, cwd=here, env=_environ(), check=False).returncode == 0


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
@pytest.mark.parametrize("arguments", ["rank dark", "walk dark", "--version"])
def test_a_full_disk_is_said_in_words(here: Path, arguments: str) -> None:
    """On standard error, with exit code 1."""
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [*FAULTREE, *arguments.split()], stdin=subprocess.DEVNULL, stdout=full, stderr=subprocess.PIPE,
            cwd=here, env=_environ(), check=False,
        )  # fmt: skip
    assert (done.returncode, done.stderr.decode().strip()) == (1, "Error: No space left on device")
