"""A drawing as Python shows it: in a notebook, as text, and as files."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from faultree.diagrams.draw import files, format_of
from faultree.diagrams.drawing import Drawing
from faultree.library.store import replace


@dataclass(frozen=True, eq=False)
class Shown:
    """A drawing that shows itself in a notebook and writes itself to files."""

    drawing: Drawing

    @property
    def pages(self) -> tuple[str, ...]:
        """Each sheet as SVG."""
        return tuple(page.decode() for page in files(self.drawing, "svg"))

    def text(self, width: int = 80) -> str:
        """The drawing as plain text, so many columns wide."""
        return files(self.drawing, "txt", width=width)[0].decode()

    def save(self, path: str | Path, pixels: int | None = None) -> tuple[Path, ...]:
        """Write it in the format that the ending asks for; several sheets of SVG or PNG become numbered files.

        `pixels` is the width of a PNG. Returns the files written; raises DrawingError or OSError.
        """
        return written(Path(path), files(self.drawing, format_of(str(path)), pixels))

    def _repr_svg_(self) -> str:
        return self.pages[0]

    def _repr_mimebundle_(self, include: object = None, exclude: object = None) -> dict[str, str]:
        del include, exclude  # a notebook takes what it can show
        return {"image/svg+xml": self.pages[0], "text/plain": self.text()}


def written(path: Path, made: Sequence[bytes]) -> tuple[Path, ...]:
    """Write one file, or one numbered file for each content; every file whole or not at all."""
    paths = numbered(path, len(made))
    for one, content in zip(paths, made, strict=True):
        replace(one, content)
    return paths


def numbered(path: Path, count: int) -> tuple[Path, ...]:
    """The files that so many contents become: the one named, or one with a number for each.

    >>> [one.name for one in numbered(Path("wall.svg"), 2)]
    ['wall-1.svg', 'wall-2.svg']
    """
    return tuple(path.with_stem(f"{path.stem}-{number}") for number in range(1, count + 1)) if count > 1 else (path,)
