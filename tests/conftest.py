"""Settings that every test shares."""

from __future__ import annotations

import os

import pytest
from hypothesis import settings

from faultree.cli.main import ONE_THREAD

os.environ.setdefault(*ONE_THREAD)  # as at the command line; several workers share the cores besides

# A shared machine is sometimes slow: no deadline per example. CI draws the same examples each time.
settings.register_profile("here", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "here")


def pytest_addoption(parser: pytest.Parser) -> None:
    """Adds `--rewrite-docs`: put what each console example shows now into the documents."""
    parser.addoption("--rewrite-docs", action="store_true", help="refresh the console examples of the documents")
