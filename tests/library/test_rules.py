"""What the fields of one entry demand of each other."""

from __future__ import annotations

import pytest

from tests.library.texts import Broken, broken, problems


@pytest.mark.parametrize("mistake", broken("rules"))
def test_every_mistake_is_named_with_place_and_remedy(mistake: Broken) -> None:
    """The exact messages are what an author works with."""
    assert problems(mistake.fragment) == mistake.messages
