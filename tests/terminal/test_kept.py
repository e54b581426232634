"""A kept walk is whole, its own, found again, and never in anybody's way."""

from __future__ import annotations

import os
import stat
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from faultree.library.load import load_texts
from faultree.terminal import files, kept
from faultree.terminal.kept import DISCARDED, KEY, Keeper, kept_in
from faultree.walk import saved
from faultree.walk.machine import start
from tests.terminal.drawn import session
from tests.walk.small import DARK, LOCKED, asked, walked

LIBRARY = "the/trees"
NOON = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)


def _keeper(folder: Path, library: str = LIBRARY) -> Keeper:
    return Keeper(folder / "walks", library, lambda: NOON)


def _data(answer: str = "silence") -> dict[str, object]:
    return saved.pack(walked(*asked("click", answer)))


def test_a_walk_is_kept_as_a_case_that_can_be_opened(tmp_path: Path) -> None:
    """With the time, the library, and where its user saved it last."""
    keeper = _keeper(tmp_path)
    assert keeper.keep(_data(), Path("mine.yaml")) == ""
    assert keeper.path is not None
    assert keeper.path.name == "20260301-120000-signal-dark.yaml"
    data = files.load(keeper.path)
    assert data[KEY] == {"at": NOON.isoformat(), "library": LIBRARY, "saved": str(Path("mine.yaml").resolve())}
    assert {key: value for key, value in data.items() if key != KEY} == _data()


@pytest.mark.skipif(sys.platform == "win32", reason="Windows keeps no such modes")
def test_nobody_else_can_read_it(tmp_path: Path) -> None:
    """A case may name what is nobody else's business."""
    keeper = _keeper(tmp_path)
    keeper.keep(_data(), None)
    assert keeper.path is not None
    assert stat.S_IMODE(keeper.path.stat().st_mode) & 0o077 == 0
    assert stat.S_IMODE(keeper.path.parent.stat().st_mode) & 0o077 == 0


def test_two_walks_have_two_files(tmp_path: Path) -> None:
    """Begun in the same second on the same report; a walk that is dead but not taken up keeps its own, too."""
    first, second, third = (_keeper(tmp_path) for _ in range(3))
    first.keep(_data("silence"), None)
    second.keep(_data("click"), None)
    second.leave()
    third.keep(_data("silence"), None)
    assert len({first.path, second.path, third.path}) == 3
    (found,) = kept_in(tmp_path / "walks", LIBRARY)  # the other two are going on
    assert found.path == second.path
    found.leave()


def test_only_walks_of_the_same_library_are_found_newest_first(tmp_path: Path) -> None:
    """What cannot be read is passed over and stays; nothing is held of what is not offered."""
    for hour, library in ((9, LIBRARY), (11, "others"), (10, LIBRARY)):
        keeper = Keeper(tmp_path, library, lambda hour=hour: NOON.replace(hour=hour))  # type: ignore[misc]
        keeper.keep(_data(), None)
        keeper.leave()
    (tmp_path / "20260301-130000-torn.yaml").write_text("case: [", encoding="utf-8")
    found = list(kept_in(tmp_path, LIBRARY))
    assert [one.at for one in found] == [NOON.replace(hour=10), NOON.replace(hour=9)]
    assert found[0].titles == ("the signal lamp stays dark",)
    assert (found[0].symptoms, found[0].steps, found[0].saved) == ((DARK,), 1, None)
    for one in found:
        one.leave()
    assert sorted(path.suffix for path in tmp_path.iterdir()) == [".yaml"] * 4


def test_a_folder_that_is_not_there_holds_nothing(tmp_path: Path) -> None:
    assert list(kept_in(tmp_path / "none", LIBRARY)) == []


def test_what_is_discarded_is_put_aside_and_the_oldest_go(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A slip of the finger can be mended by hand; the folder does not grow for ever."""
    monkeypatch.setattr(kept, "ROOM", 2)
    for hour in (9, 10, 11):
        keeper = Keeper(tmp_path, LIBRARY, lambda hour=hour: NOON.replace(hour=hour))  # type: ignore[misc]
        keeper.keep(_data(), None)
        keeper.leave()
        (found,) = kept_in(tmp_path, LIBRARY)
        found.discard()
    assert list(kept_in(tmp_path, LIBRARY)) == []
    left = sorted(path.name[9:11] for path in (tmp_path / DISCARDED).iterdir())
    assert left == ["10", "11"]


# --- what cannot be written --------------------------------------------------------------------


def test_a_folder_that_cannot_be_made_is_said_once_and_the_walk_goes_on(tmp_path: Path) -> None:
    """A file stands where the folder should be, as good as a read-only place."""
    (tmp_path / "walks").write_text("in the way", encoding="utf-8")
    made, record = session("ok", "silence", "note loose", "quit")
    made.keeper = _keeper(tmp_path)
    made.begin([DARK])
    walk = made.run()
    text = " ".join(record.getvalue().split())
    assert text.count("This walk cannot be kept as it goes on") == 1
    assert "type save and a file name" in text
    assert len(walk.open_case.steps) == 1
    assert walk.remarks[0].text == "loose"


def test_a_full_disk_is_said_once_and_writing_is_tried_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The walk is whole as soon as there is room; what was kept before is not torn."""
    keeper = _keeper(tmp_path)
    keeper.keep(_data(), None)
    real = os.fsync

    def full(handle: int) -> None:
        raise OSError(28, f"No space left on device {handle}")

    monkeypatch.setattr(os, "fsync", full)
    assert "No space left on device" in keeper.keep(_data("click"), None)
    assert keeper.keep(_data("click"), None) == ""
    assert keeper.path is not None
    assert files.load(keeper.path)["steps"] == _data()["steps"]
    monkeypatch.setattr(os, "fsync", real)
    assert keeper.keep(_data("click"), None) == ""
    assert files.load(keeper.path)["steps"] == _data("click")["steps"]
    assert [path.suffix for path in sorted(keeper.folder.iterdir())] == [".lock", ".yaml"]


# --- with a session ----------------------------------------------------------------------------


def test_a_walk_is_kept_until_it_is_saved(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Saved, there is nothing to keep; after the next step there is again."""
    monkeypatch.chdir(tmp_path)
    made, record = session("ok", "silence", "save mine", "quit")
    made.keeper = _keeper(tmp_path)
    made.begin([DARK])
    made.run()
    assert list((tmp_path / "walks").iterdir()) == []
    again, _ = session("ok", "silence", "save mine2", "note more", "quit")
    again.keeper = _keeper(tmp_path)
    again.begin([DARK])
    again.run()
    (found,) = kept_in(tmp_path / "walks", LIBRARY)
    assert found.saved == tmp_path / "mine2.yaml"
    found.leave()
    assert "Saved in mine.yaml." in record.getvalue()


def test_a_walk_without_an_answer_leaves_nothing_behind(tmp_path: Path) -> None:
    """Looking around is not kept, nor an answer that was taken back."""
    for lines in (("ok", "why", "quit"), ("ok", "silence", "undo", "quit")):
        made, _ = session(*lines)
        made.keeper = _keeper(tmp_path)
        made.begin([DARK])
        made.run()
        assert not list((tmp_path / "walks").glob("*"))


def test_a_kept_walk_is_taken_up_and_goes_on_in_its_own_file(tmp_path: Path) -> None:
    """Quit once more without a new step, it is still there."""
    first, _ = session("ok", "silence", "quit", by_hand=True)
    first.keeper = _keeper(tmp_path)
    first.begin([DARK])
    first.run()
    for lines in (("ok", "quit"), ("ok", "note more", "quit")):
        (found,) = kept_in(tmp_path / "walks", LIBRARY)
        made, record = session(*lines, by_hand=True)
        made.keeper = _keeper(tmp_path)
        made.take_up_kept(found)
        walk = made.run()
        assert "The case is kept as it is" in " ".join(record.getvalue().split())
        assert [one[:2] for one in walk.open_case.steps] == [("signal/click", "silence")]
    (found,) = kept_in(tmp_path / "walks", LIBRARY)
    assert "more" in str(found.data["walk"])
    found.leave()


def test_a_pin_that_may_be_in_is_kept_before_its_step_is_done(tmp_path: Path) -> None:
    """The cautions are acknowledged, then the machine dies: whoever takes the walk up is told of the pin."""
    locked = start(load_texts({"signal.yaml": LOCKED}))
    made, _ = session("ok", "check voltage", "ok", walk=locked)
    made.keeper = _keeper(tmp_path)
    made.begin([DARK])
    made.run()
    (found,) = kept_in(tmp_path / "walks", LIBRARY)
    again, record = session("ok", "finish", walk=locked)
    again.take_up_kept(found)
    again.run()
    found.leave()
    assert "take the pin of the panel out" in " ".join(record.getvalue().split())


def test_an_interruption_says_that_the_case_is_kept(tmp_path: Path) -> None:
    """So that nobody is afraid to press Ctrl-C again."""
    made, record = session("ok", "silence", "ctrl-c", "ctrl-c", by_hand=True)
    made.keeper = _keeper(tmp_path)
    made.begin([DARK])
    made.run()
    text = " ".join(record.getvalue().split())
    assert "Interrupted. The case is kept as it is: the next 'faultree walk' offers to take it up." in text
    assert "Left. The case is kept as it is" in text


@pytest.mark.parametrize("lines", [("silence", "finish"), ("replace fuse", "ok", "gone")])
def test_a_case_that_has_ended_is_not_offered_again_and_is_not_lost(tmp_path: Path, lines: tuple[str, ...]) -> None:
    """The hand-over may still be wanted: it lies where the screen says, and can be opened there."""
    made, record = session("ok", *lines, "quit", by_hand=True)
    made.keeper = _keeper(tmp_path)
    made.begin([DARK])
    made.run()
    assert list(kept_in(tmp_path / "walks", LIBRARY)) == []
    (path,) = (tmp_path / "walks" / "discarded").glob("*.yaml")
    assert files.load(path)["symptoms"]
    shown = record.getvalue()
    assert "The case has ended, so it is not offered again." in shown
    assert path.name in "".join(shown.split())
    assert "offers to take it up" not in " ".join(shown.split())


@pytest.mark.parametrize("lines", [("silence",), ("check voltage", "ok", "yes")])
def test_a_case_that_was_only_left_is_offered_again(tmp_path: Path, lines: tuple[str, ...]) -> None:
    """Also where one item stands out: whoever goes to replace it comes back and says whether that helped."""
    made, _ = session("ok", *lines, "quit", by_hand=True)
    made.keeper = _keeper(tmp_path)
    made.begin([DARK])
    made.run()
    (found,) = kept_in(tmp_path / "walks", LIBRARY)
    found.leave()
