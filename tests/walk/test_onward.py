"""Where a walk goes next."""

from __future__ import annotations

import pytest

from faultree.base.errors import CaseError
from faultree.walk import events as ev
from faultree.walk import onward
from faultree.walk.machine import start
from faultree.walk.state import CheckStep
from faultree.walk.table import Phase
from tests.walk.small import small, walked


def test_cautions_stand_before_the_step_until_they_are_read() -> None:
    """Once each."""
    unread = onward.enter(walked(), CheckStep("signal/supply-seen"))
    assert unread.phase is Phase.CAUTIONS
    read = onward.enter(walked(ev.TakeUp("supply-seen"), ev.Acknowledge()), CheckStep("signal/supply-seen"))
    assert read.phase is Phase.CHECK


def test_without_a_step_on_view_there_is_none_to_speak_of() -> None:
    """In words, for whoever asks too early."""
    with pytest.raises(CaseError, match="no step is on view"):
        onward.pending_of(start(small()))
