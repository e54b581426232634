"""What a case says of its flight can be completed and corrected; the log keeps what was said before."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.journal import book
from faultree.journal.records import Flight
from tests.cli.desks import run, said
from tests.journal.cases import debriefed, opened


@pytest.fixture(autouse=True)
def case(journal: Path) -> None:
    store = opened(journal)
    debriefed(store, flight=Flight("HM-VLX", "HM 412"), answers=[])
    store.close()


def test_what_is_named_is_corrected_and_the_rest_stays(journal: Path) -> None:
    out = said(
        "debrief", "flight", "1", "--aircraft", "HM-VLA", "--day", "4 May 2025", "--phase", "land", "--who", "KL"
    )
    assert out == "Case 1, its flight: HM-VLA, HM 412, 2025-05-04, landing."
    record = book.read(opened(journal), 1)
    assert record.head.flight == Flight("HM-VLA", "HM 412", "2025-05-04", "landing")
    assert (record.entries[-1].kind, record.entries[-1].who) == ("flight", "KL")
    run("debrief", "flight", "1", "--flight", "")
    assert book.read(opened(journal), 1).head.flight.flight == ""


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "say what is corrected"), (("--day", "soon"), "is no day"), (("--day", "2999-01-01"), "is still to come"),
        (("--phase", "landign"), "did you mean 'landing'?"), (("--phase", "hovering"), "is no phase of a flight"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_and_changes_nothing(journal: Path, arguments: tuple[str, ...], words: str) -> None:
    assert words in " ".join(run("debrief", "flight", "1", *arguments, code=2).output.split())
    assert book.read(opened(journal), 1).head.flight == Flight("HM-VLX", "HM 412")


def test_a_new_case_takes_no_other_phase_either() -> None:
    assert "did you mean 'landing'?" in run("debrief", "--phase", "landign", code=2).output
