"""The analysis for a person and as plain data, with its options."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from faultree.cli.commands import commands
from faultree.walk.prompt import NOTICE
from tests.strategy.matrices import PUMP


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder whose `trees` hold the small pump."""
    (tmp_path / "trees").mkdir()
    (tmp_path / "trees" / "pump.yaml").write_text(PUMP, encoding="utf-8")
    monkeypatch.chdir(tmp_path)


def _analyse(*arguments: str) -> str:
    done = CliRunner().invoke(commands, ["analyse", *arguments])
    assert (done.exit_code, done.stderr) == (0, "")
    return done.stdout


def _data(*arguments: str) -> dict[str, Any]:
    return dict(json.loads(_analyse(*arguments, "--json")))


def test_for_a_person_sentences_tables_and_the_notice() -> None:
    """Piped output is plain and 80 columns wide."""
    out = _analyse("no-flow", "--by", "crew", "--by", "line")
    assert "\x1b" not in out
    assert max(map(len, out.splitlines())) <= 80
    flat = " ".join(out.split())
    assert "no check made by the crew or the line separates “pump worn” from “pipe leaking”." in flat
    assert "Probability that the faults of this library cause it: 0.0493 (exact)." in flat
    assert NOTICE in flat


def test_plain_data_has_the_agreed_names() -> None:
    data = _data("no-flow")
    assert {"probability", "exact", "cut_sets", "importance", "groups", "detected", "isolated", "notice"} <= set(data)
    assert data["cut_sets"] == [["pump/worn"], ["pump/seized"], ["pump/leak"], ["pump/low"]]
    assert data["notice"] == NOTICE


def test_only_checks_of_some() -> None:
    assert _data("no-flow")["groups"] == []
    assert _data("no-flow", "--by", "crew")["groups"] == [["pump/worn", "pump/leak", "pump/low"]]


def test_limits_and_what_they_left_out() -> None:
    assert _data("both", "--max-order", "1")["cut_sets"] == []
    assert _data("no-flow", "--least-probability", "0.015")["cut_sets"] == [["pump/worn"]]
    out = " ".join(_analyse("no-flow", "--least-probability", "0.015").split())
    assert "Not listed: 3 sets less likely than 0.015." in out


def test_all_lines() -> None:
    """The table of figures ends after ten causes unless all are asked for."""
    many = "\n".join(f"  more-{at}: {{title: fault {at}, probability: 0.01}}" for at in range(20))
    text = PUMP.replace("signals:", f"{many}\nsignals:").replace(
        "lost_if: [low]", f"lost_if: [low, {', '.join(f'more-{at}' for at in range(20))}]"
    )
    Path("trees/pump.yaml").write_text(text, encoding="utf-8")
    assert "and 14 more; --all lists them" in _analyse("no-flow")
    assert "--all" not in _analyse("no-flow", "--all")


def test_words_of_a_symptom_will_do_and_a_wrong_one_is_named() -> None:
    assert _data("flow is shown")["symptom"] == "pump/no-flow"
    done = CliRunner().invoke(commands, ["analyse", "no-flaw"])
    assert done.exit_code == 1
    assert "unknown symptom 'no-flaw'; did you mean 'pump/no-flow'?" in done.stderr


@pytest.mark.parametrize("arguments", [["--max-order", "0"], ["--least-probability", "2"], ["--by", "pilot"], []])
def test_wrong_use(arguments: list[str]) -> None:
    symptom = ["no-flow"] if arguments else []
    assert CliRunner().invoke(commands, ["analyse", *symptom, *arguments]).exit_code == 2
