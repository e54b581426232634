"""faultree: fault trees from plain YAML, exact ranking of causes, and a walk that finds the fault.

The names below are loaded when they are first used, so that importing the package costs nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

__version__ = "0.1.0"

if TYPE_CHECKING:
    from faultree.base.errors import CaseError as CaseError
    from faultree.base.errors import ChartError as ChartError
    from faultree.base.errors import Contradiction as Contradiction
    from faultree.base.errors import FaultreeError as FaultreeError
    from faultree.base.errors import LibraryError as LibraryError
    from faultree.base.errors import UnknownName as UnknownName
    from faultree.face import Case as Case
    from faultree.face import Library as Library
    from faultree.face import load as load
    from faultree.face import load_texts as load_texts
    from faultree.strategy.chart.value import Chart as Chart

_HOMES = {
    "CaseError": "faultree.base.errors",
    "ChartError": "faultree.base.errors",
    "Contradiction": "faultree.base.errors",
    "FaultreeError": "faultree.base.errors",
    "LibraryError": "faultree.base.errors",
    "UnknownName": "faultree.base.errors",
    "Case": "faultree.face",
    "Library": "faultree.face",
    "load": "faultree.face",
    "load_texts": "faultree.face",
    "Chart": "faultree.strategy.chart.value",
}

__all__ = ["__version__", *_HOMES]


if not TYPE_CHECKING:  # so that a misspelt name is an error to a type checker

    def __getattr__(name: str) -> object:
        """Load a public name from its home when it is first asked for."""
        if name not in _HOMES:
            raise AttributeError(f"module 'faultree' has no attribute {name!r}")
        from importlib import import_module

        value = getattr(import_module(_HOMES[name]), name)
        globals()[name] = value
        return value
