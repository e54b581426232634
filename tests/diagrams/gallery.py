"""Draws every symptom of the demonstration library in every view and format, and writes the gallery of the documents.

`python -m tests.diagrams.gallery FOLDER` writes all of it into a folder and says what each took; `--docs` renews
`docs/gallery.md` and the pictures beside it.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from faultree.base.errors import FaultreeError
from faultree.diagrams.chart import chart_drawing
from faultree.diagrams.draw import FORMATS, draw, files
from faultree.diagrams.drawing import Drawing, Request
from faultree.diagrams.evidence import evidence_of
from faultree.diagrams.picture import View
from faultree.diagrams.shown import written
from faultree.strategy.case import Case
from faultree.strategy.chart.compile import compile_chart
from faultree.strategy.chart.value import Chart
from tests.trees.demonstration import library

ROOT = Path(__file__).resolve().parents[2]
DOCS = ROOT / "docs"
DAY = datetime(2026, 11, 25, tzinfo=UTC)
"""The date on the pictures of the documents: they change only when something in them does."""

HEADLINES = ("leading-edge/transit-light-stays-on", "flaps/needles-apart", "spoilers/lever-held-on-ground")
"""Symptoms of which the documents show every view."""

CASE = ("spoilers/lever-held-on-ground", {"ground-test-lamps-parked": "only-1"})
"""A case whose evidence the documents show on the tree and on the logic."""

LEVELS = 3
"""So many levels of the other trees are shown: enough to know them by."""

SECONDS = 60.0
"""A chart that is not proven within this is drawn as it is then known."""


def request(symptom: str, paper: str | None = None, **more: Any) -> Request:
    """A drawing with the date of the documents."""
    return Request(library(), symptom, paper=paper, made=DAY, **more)


def views(symptom: str, paper: str | None, chart: Chart) -> Iterator[tuple[View, Drawing]]:
    """A symptom in every view; the chart is compiled by whoever asks, as that takes the longest."""
    asked = request(symptom, paper)
    yield "tree", draw(asked, "tree")
    yield "logic", draw(asked, "logic")
    yield "chart", chart_drawing(asked, chart)
    yield "matrix", draw(asked, "matrix")


def everything(folder: Path) -> Iterator[str]:
    """Write every symptom in every view and format; a line for each view, or for what could not be written."""
    folder.mkdir(parents=True, exist_ok=True)
    for symptom in library().symptoms:
        chart = compile_chart(library(), [symptom], limit_s=SECONDS)
        for paper, forms in ((None, [one for one in FORMATS if one != "pdf"]), ("a4", ["pdf"])):
            for view, drawing in views(symptom, paper, chart):
                started = time.perf_counter()
                for form in forms:
                    path = folder / f"{symptom.replace('/', '-')}-{view}.{form}"
                    try:
                        written(path, files(drawing, form))
                    except FaultreeError as error:
                        yield f"{path.name}: {error}"
                took = time.perf_counter() - started
                yield f"{symptom} {view} {paper or 'one sheet'}, {len(drawing.sheets)} sheets: {took:.1f} s"


def documents() -> None:
    """Renew the page of the documents and its pictures."""
    pictures = DOCS / "gallery"
    pictures.mkdir(exist_ok=True)
    for old in pictures.glob("*.svg"):
        old.unlink()
    lines = [HEAD]
    for symptom in HEADLINES:
        lines += [f"## {_capital(library().symptoms[symptom].title)}", ""]
        chart = compile_chart(library(), [symptom], limit_s=SECONDS)
        for view, drawing in views(symptom, None, chart):
            lines += _shown(symptom, view, drawing, f"faultree draw {symptom} --as {view} -o {view}.svg")
    lines += ["## A case on the picture", "", "After the answer “only lamp 1” to the press of the test button:", ""]
    symptom, answers = CASE
    case = Case.open(library(), [symptom])
    for check, answer in answers.items():
        case = case.answer(check, answer)
    told = " ".join(f"--answer {check}={answer}" for check, answer in answers.items())
    for view in ("tree", "logic"):
        drawing = draw(request(symptom, evidence=evidence_of(case)), view)
        lines += _shown(symptom, f"{view}-case", drawing, f"faultree draw {symptom} --as {view} {told} -o {view}.svg")
    lines += [REST]
    for symptom in library().symptoms:
        drawing = draw(request(symptom, depth=LEVELS), "tree")
        name = _saved(symptom, "levels", drawing)
        lines.append(f"| [{_capital(library().symptoms[symptom].title)}](gallery/{name}) | `{symptom}` |")
    (DOCS / "gallery.md").write_text("\n".join(lines) + "\n", encoding="utf-8")


HEAD = """# Gallery

Drawings of the demonstration library, which describes an invented aircraft, made by
`python -m tests.diagrams.gallery --docs`; how to make and to read them stands in [drawings.md](drawings.md).
The approved maintenance manual and a licensed engineer decide; these pictures are training aids.
"""

REST = """## Every symptom

The upper three levels of each fault tree. `faultree draw SYMPTOM` with `--as tree`, `logic`, `chart` or `matrix` and
`-o FILE` draws all of it; `python -m tests.diagrams.gallery FOLDER` draws all symptoms in all views and formats.

| symptom | id |
|---|---|"""


LARGEST = 200_000
"""Larger pictures, in bytes, are left out of the documents."""


def _shown(symptom: str, view: str, drawing: Drawing, command: str) -> list[str]:
    if len(files(drawing, "svg")[0]) > LARGEST:
        return [f"`{command}` (too large to be shown here)", ""]
    return [f"`{command}`", "", f"![{drawing.sheets[0].name}](gallery/{_saved(symptom, view, drawing)})", ""]


def _saved(symptom: str, view: str, drawing: Drawing) -> str:
    name = f"{symptom.replace('/', '-')}-{view}.svg"
    (DOCS / "gallery" / name).write_bytes(files(drawing, "svg")[0])
    return name


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def main() -> None:
    """Read the command line and write what it asks for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path, nargs="?")
    parser.add_argument("--docs", action="store_true")
    asked = parser.parse_args()
    for line in everything(asked.folder) if asked.folder else ():
        sys.stdout.write(f"{line}\n")
        sys.stdout.flush()
    if asked.docs:
        documents()


if __name__ == "__main__":
    main()
