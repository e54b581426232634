"""Runs the engines that draw: typst for PDF and PNG, the bundled graph engine or a system `dot` where it is missing.

SVG, DOT, Mermaid and text need none of them.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Mapping, Sequence
from importlib.util import find_spec
from pathlib import Path
from typing import Literal

from faultree.diagrams.drawing import DrawingError

BUNDLED = "graphviz-pure"
"""The engine that comes with faultree, a program beside the Python that runs."""

PATIENCE = 60.0
"""Seconds that an engine may take."""

SUSPECTS = b"/Suspects false"

NO_PDF = (
    "PDF needs the 'typst' package: pip install 'faultree[pdf]'; without it write .svg, which any browser prints, "
    "or install Graphviz so that 'dot' is found"
)
NO_ENGINE = (
    "the graph engine was not found: pip install --force-reinstall graphviz-pure, or install Graphviz so that 'dot' "
    "is found; .gv, .mmd and .txt need no engine"
)


def engines(environ: Mapping[str, str] = os.environ) -> tuple[str, ...]:
    """The graph engines that are there, the bundled one first."""
    folders = [Path(sys.executable).parent, Path(sys.prefix) / "bin", Path(sys.prefix) / "Scripts"]
    beside = shutil.which(BUNDLED, path=os.pathsep.join(map(str, folders)))
    found = [
        beside or shutil.which(BUNDLED, path=environ.get("PATH", "")),
        shutil.which("dot", path=environ.get("PATH", "")),
    ]
    return tuple(one for one in found if one)


def has_typst() -> bool:
    """Whether the package that makes PDF is installed."""
    return find_spec("typst") is not None


def laid_out(text: str, form: str, *, places_kept: bool = False, environ: Mapping[str, str] = os.environ) -> bytes:
    """A DOT text drawn by the first engine that can; DrawingError where none is there or none can."""
    layout = ["-Kneato", "-n2"] if places_kept else ["-Kdot"]
    said = NO_ENGINE
    for engine in engines(environ):
        try:
            done = subprocess.run(
                [engine, *layout, f"-T{form}"], input=text.encode(), capture_output=True, timeout=PATIENCE, check=False
            )
        except subprocess.TimeoutExpired:
            raise DrawingError(f"the graph engine took more than {PATIENCE:.0f} s; draw less, or on paper") from None
        except OSError as error:
            said = f"{engine} does not run: {error.strerror or error}"
            continue
        if done.returncode == 0 and done.stdout:
            return done.stdout
        said = f"{Path(engine).name} failed: {done.stderr.decode(errors='replace').strip()[:300]}"
    raise DrawingError(said)


def pdf(svgs: Sequence[str]) -> bytes:
    """Pages of SVG as one PDF, each page as large as its picture. Text stays text, with its faces embedded."""
    # The typesetter says in every catalogue that no tag is a suspect, which is so without saying, and which common
    # readers complain of. What stands in its place is as long, so that the table of places stays right.
    return _typeset(svgs, "pdf").replace(SUSPECTS, b" " * len(SUSPECTS))


def png(svg: str) -> bytes:
    """A page of SVG as PNG, a pixel for each point of its size."""
    return _typeset([svg], "png")


def _typeset(svgs: Sequence[str], form: Literal["pdf", "png"]) -> bytes:
    import typst

    with tempfile.TemporaryDirectory() as folder:
        for number, text in enumerate(svgs):
            Path(folder, f"{number}.svg").write_text(text, encoding="utf-8")
        pages = "#pagebreak()\n".join(f'#image("{number}.svg")\n' for number in range(len(svgs)))
        source = Path(folder, "main.typ")
        source.write_text(f"#set page(width: auto, height: auto, margin: 0pt)\n{pages}", encoding="utf-8")
        try:
            return typst.compile(str(source), format=form, ppi=72.0, timestamp=0)
        except RuntimeError as error:
            raise DrawingError(f"the page could not be typeset: {str(error)[:300]}") from error
