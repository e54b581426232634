"""The option that follows a chart tells a file from a report, and a chart that fits from one that does not."""

from __future__ import annotations

import json
from pathlib import Path

import click
import pytest

from faultree.base.errors import ChartError
from faultree.cli.charted import load, split, to_follow
from faultree.library.load import load_texts
from tests.strategy.chart.by_hand import chart
from tests.walk.small import DARK, SIGNAL, small


@pytest.fixture
def saved(tmp_path: Path) -> Path:
    """A saved chart."""
    path = tmp_path / "dark.json"
    path.write_text(json.dumps(chart().to_dict()), encoding="utf-8")
    return path


def test_a_name_that_ends_in_json_is_a_file() -> None:
    """Whatever else stands behind the option is a report, so that the order of words does not matter."""
    assert split("CHART.JSON", ("dark",)) == ("CHART.JSON", ("dark",))
    assert split("signal/dark", ()) == ("", ("signal/dark",))


def test_a_saved_chart_comes_back(saved: Path) -> None:
    """With the reports named, or none."""
    found = to_follow(small(), str(saved), [DARK], ())
    assert found is not None
    assert dict(found.nodes) == dict(chart().nodes)
    assert to_follow(small(), None, [DARK], ()) is None
    with pytest.raises(click.UsageError, match="is a chart of signal/dark"):
        to_follow(small(), str(saved), ["signal/doubly-bad"], ())


def test_a_chart_of_other_tree_files_is_refused_by_its_name(saved: Path) -> None:
    """It says which file, and why."""
    other = load_texts({"signal.yaml": SIGNAL + "\n# changed\n"})
    with pytest.raises(ChartError, match=r"dark\.json: this chart was compiled from other tree files"):
        load(other, saved)


def test_a_chart_is_compiled_for_some_people_only() -> None:
    """As far as the crew gets."""
    found = to_follow(small(), "", [DARK], ("crew",))
    assert found is not None
    assert found.by == ("crew",)


def test_bytes_that_are_no_text_are_refused(tmp_path: Path) -> None:
    """A picture by mistake."""
    path = tmp_path / "x.json"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(ChartError, match="no UTF-8 text"):
        load(small(), path)
