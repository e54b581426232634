"""Runs every example of a Markdown document: Python, console and tree files."""

from __future__ import annotations

import difflib
import doctest
from collections.abc import Iterator
from itertools import takewhile
from pathlib import Path

from sybil import Document, Example
from sybil.parsers.markdown import CodeBlockParser, PythonCodeBlockParser

from tests.house import console

FLAGS = doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS


class Book:
    """One document and the shell in which its console examples run, in the order in which they stand.

    With `rewrite`, what a command shows replaces what the document said; otherwise it must be the same.
    """

    def __init__(self, path: Path, shell: console.Shell, *, rewrite: bool = False) -> None:
        self.path = path
        self._shell = shell
        self._rewrite = rewrite
        self._changes: list[tuple[int, int, str]] = []
        self._going_on: dict[int, list[console.Step]] = {}
        self._document = Document.parse(
            str(path),
            PythonCodeBlockParser(doctest_optionflags=FLAGS),
            CodeBlockParser("console", self._run_console),
            CodeBlockParser("yaml", _load_tree),
        )

    def run(self) -> Iterator[str]:
        """A report for each example that does not do what the document says."""
        for example in self._document:
            try:
                example.evaluate()
            except AssertionError as failed:
                yield f"{self.path.name}:{example.line}: {failed}"
        if self._changes:
            self._save()

    def _run_console(self, example: Example) -> str | None:
        steps = console.read(example.parsed)
        shown = self._going_on.pop(example.start, [])
        for step in steps[len(shown) :]:
            blocks = self._blocks_after(example) if step is steps[-1] else []
            shown.append(self._run_step(step, blocks))
        return None if shown == steps else self._differs(example, steps, shown)

    def _run_step(self, step: console.Step, blocks: list[Example]) -> console.Step:
        """Run one command; what it shows after the last line typed here belongs to the blocks that go on with it."""
        texts = [step.output, *(console.read(block.parsed)[0].output for block in blocks)]
        output = self._shell.run(step.command, console.typed("\n".join(texts)))
        first, *rest = console.cut(output, [len(console.ASKED.findall(text)) for text in texts[:-1]])
        for block, part in zip(blocks, rest, strict=True):
            self._going_on[block.start] = [console.Step("", part)]
        return step._replace(output=first)

    def _blocks_after(self, example: Example) -> list[Example]:
        """The console blocks right behind this one that begin with no command."""
        later = [one for one in self._document if one.region.evaluator == self._run_console]
        later = [one for one in later if one.start > example.start]
        return list(takewhile(lambda one: not one.parsed.startswith(console.PROMPT), later))

    def _differs(self, example: Example, steps: list[console.Step], shown: list[console.Step]) -> str | None:
        if self._rewrite:
            start = example.start + example.parsed.offset
            self._changes.append((start, start + len(example.parsed.text), console.write(shown)))
            return None
        before, after = console.write(steps).splitlines(), console.write(shown).splitlines()
        difference = difflib.unified_diff(before, after, "in the document", "shown now", lineterm="")
        return "\n".join([*difference, "refresh it with: pytest tests/house/test_docs.py --rewrite-docs"])

    def _save(self) -> None:
        text = self._document.text
        for start, end, block in reversed(self._changes):
            text = text[:start] + block + text[end:]
        self.path.write_text(text, encoding="utf-8")


def _load_tree(example: Example) -> str | None:
    """A YAML block that says its format is a whole tree file, and loads without a problem."""
    if not example.parsed.startswith("faultree:"):
        return None
    from faultree.base.errors import LibraryError
    from faultree.library.load import load_texts

    try:
        load_texts({"example.yaml": str(example.parsed)})
    except LibraryError as error:
        return str(error)
    return None
