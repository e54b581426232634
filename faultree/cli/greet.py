"""What `faultree` alone shows: the symptoms of the library, and how to begin."""

from __future__ import annotations

from faultree.cli.options import load_library, screen
from faultree.cli.place import library_folder


def greet(folder: str | None) -> None:
    """Greet, list what can be looked up, and say what to type next."""
    library = load_library(folder)
    from faultree.terminal.sheets import draw_greeting

    shown = screen()
    shown.show(draw_greeting(library, str(library_folder(folder)), shown.page))
