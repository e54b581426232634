"""Reads the page of the rules: its system, and for each rule what is wrong, what is said of it, and what is right."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import NamedTuple

import yaml

from faultree.base.problem import Problem
from faultree.library.load import load_texts
from faultree.strategy.lint.run import lint

PAGE = Path(__file__).resolve().parents[3] / "docs" / "rules.md"
BLOCK = r"```{}\n(.*?)```"


class Shown(NamedTuple):
    """What the page shows of a rule; `text` is all of its section."""

    text: str
    wrong: str
    findings: tuple[str, ...]
    right: str


@cache
def system() -> str:
    """The file to which every example is added."""
    blocks = re.findall(BLOCK.format("yaml"), PAGE.read_text(encoding="utf-8"), re.DOTALL)
    (found,) = [str(block) for block in blocks if block.startswith("faultree: 1")]
    return found


@cache
def sections() -> dict[str, str]:
    """The text below each rule's heading, by the rule's name."""
    parts = re.split(r"^#{2,3} (.+)\n", PAGE.read_text(encoding="utf-8"), flags=re.MULTILINE)
    return {name: text for name, text in zip(parts[1::2], parts[2::2], strict=True) if re.fullmatch(r"[a-z-]+", name)}


@cache
def examples() -> dict[str, Shown]:
    """The rules of which the page shows what is wrong and what is right."""
    found = {}
    for name, text in sections().items():
        blocks = re.findall(BLOCK.format("yaml added"), text, re.DOTALL)
        said = re.findall(BLOCK.format("text"), text, re.DOTALL)
        if blocks:
            wrong, right = blocks
            (findings,) = said
            found[name] = Shown(text, wrong, tuple(findings.splitlines()), right)
    return found


def added(block: str) -> str:
    """The text of the system with what a block adds: entries to its sections, and examples to its list.

    Nodes are joined, not values, so that every word stays as it is written.
    """
    whole, more = yaml.compose(system(), yaml.SafeLoader), yaml.compose(block, yaml.SafeLoader)
    assert whole is not None
    assert more is not None
    _join(whole, more)
    return str(yaml.serialize(whole))


def _join(whole: yaml.Node, more: yaml.Node) -> None:
    if isinstance(whole, yaml.SequenceNode):
        whole.value += more.value
        return
    known = {key.value: value for key, value in whole.value}
    for key, value in more.value:
        if key.value in known and isinstance(value, yaml.MappingNode | yaml.SequenceNode):
            _join(known[key.value], value)
        else:
            assert key.value not in known, f"the block changes '{key.value}'"
            whole.value.append((key, value))


def linted(block: str = "") -> tuple[Problem, ...]:
    """What the rules of meaning find in the system with what a block adds."""
    return lint_text(added(block) if block else system())


def lint_text(text: str) -> tuple[Problem, ...]:
    """What the rules of meaning find in a file."""
    return lint(load_texts({"signal.yaml": text}))


def said(problem: Problem) -> str:
    """A problem as the page writes it: without its place."""
    return str(problem).removeprefix(f"{problem.place}: ")
