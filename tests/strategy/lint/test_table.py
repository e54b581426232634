"""Every rule is documented, with an example that is wrong in just that way and one that is right."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import faultree.library
from faultree.strategy.lint.table import IDLE_QUIET, QUIET, RULES, UNDECIDED
from tests.strategy.lint import page

LEVELS = {rule.name: rule.level for rule in RULES} | {QUIET: "error", IDLE_QUIET: "advice", UNDECIDED: "advice"}
READER = Path(faultree.library.__file__).parent


def test_the_system_of_the_page_has_nothing_wrong() -> None:
    """What an example is blamed for is its own."""
    assert page.linted() == ()


def test_every_rule_is_documented_and_every_one_documented_is_a_rule() -> None:
    assert set(page.sections()) - {"example"} == set(LEVELS)
    assert len(LEVELS) == len(RULES) + 3


@pytest.mark.parametrize("name", LEVELS)
def test_the_page_states_the_level(name: str) -> None:
    """The first word of a rule's section is its level; rules that need every file say so."""
    text = page.sections()[name].strip()
    assert text.casefold().startswith(LEVELS[name])
    closed = any(rule.closed for rule in RULES if rule.name == name)
    assert closed == text.partition(".")[0].endswith("whole library")


@pytest.mark.parametrize("name", [*sorted(set(LEVELS) - {UNDECIDED}), "example"])
def test_the_wrong_example_breaks_just_this_rule(name: str) -> None:
    """With the very words that the page shows."""
    shown = page.examples()[name]
    problems = page.linted(shown.wrong)
    assert {problem.rule for problem in problems} == {name}
    assert tuple(map(page.said, problems)) == shown.findings
    assert {problem.level for problem in problems} == {LEVELS.get(name, "error")}


@pytest.mark.parametrize("name", [*sorted(set(LEVELS) - {UNDECIDED}), "example"])
def test_the_right_example_breaks_no_rule(name: str) -> None:
    shown = page.examples()[name]
    assert page.linted(shown.right) == ()
    assert shown.right != shown.wrong


def test_the_silence_of_the_page_works() -> None:
    """The item that the section about silences shows has no manual, and nothing is said of it."""
    text = page.PAGE.read_text(encoding="utf-8")
    shown = re.findall(r"^    x-quiet: .*$", text.partition("## The system")[0], re.MULTILINE)
    assert len(shown) == 1
    bare = page.system().replace("lamp: {title: lamp, manual: LM 3}", "lamp:\n    title: lamp")
    assert [problem.rule for problem in page.lint_text(bare)] == ["no-manual"]
    assert page.lint_text(bare.replace("    title: lamp\n", f"    title: lamp\n{shown[0]}\n")) == ()


@pytest.mark.parametrize("name", ["file", "syntax", "shape", "value", "reference", "cycle"])
def test_the_rules_of_the_reader_are_listed(name: str) -> None:
    assert re.search(rf"^\| `{name}` \|", page.PAGE.read_text(encoding="utf-8"), re.MULTILINE)


def test_the_reader_uses_no_rule_that_is_not_listed() -> None:
    """Each rule's name stands in the reader's code as `rule="..."` or as the last argument of a problem."""
    listed = set(re.findall(r"^\| `([a-z]+)` \|", page.PAGE.read_text(encoding="utf-8"), re.MULTILINE))
    code = "\n".join(path.read_text(encoding="utf-8") for path in READER.glob("*.py"))
    used = set(re.findall(r"rule(?:: str)?\s?=\s?\"([a-z]+)\"", code))
    used |= set(re.findall(r"\.problem\([^()]*(?:\([^()]*\)[^()]*)*, \"([a-z]+)\"\)", code))
    assert {"file", "syntax", "shape", "reference"} <= used <= listed


def test_every_block_that_is_added_belongs_to_a_rule() -> None:
    """A block of another page, or one without a rule, would be checked by nobody."""
    pages = [path for path in page.PAGE.parent.glob("*.md") if "```yaml added" in path.read_text(encoding="utf-8")]
    assert pages == [page.PAGE]
    assert page.PAGE.read_text(encoding="utf-8").count("```yaml added\n") == 2 * len(page.examples())
