"""faultree: fault trees from plain YAML, exact ranking of causes, and a walk that finds the fault."""

__version__ = "0.1.0"
