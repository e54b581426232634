"""Runs every example of a Markdown document: Python, console and tree files."""

from __future__ import annotations

import difflib
import doctest
import re
from collections.abc import Iterator
from itertools import takewhile
from pathlib import Path

from sybil import Document, Example
from sybil.parsers.markdown import CodeBlockParser, PythonCodeBlockParser

from tests.house import console

FLAGS = doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS

HEAD = "faultree: 1\ntitle: An example\n"
"""What is put before a piece of a tree file, so that it can be loaded by itself."""

FILE = re.compile(r"<!-- (file|add to): (\S+) -->\s*\Z")
"""A note before a block: it is a file, or goes to the end of one, in the folder in which the commands run."""


class Book:
    """One document and the shell in which its console examples run, in the order in which they stand.

    With `rewrite`, what a command shows replaces what the document said; otherwise it must be the same.
    """

    def __init__(self, path: Path, shell: console.Shell, *, rewrite: bool = False) -> None:
        self.path = path
        self._shell = shell
        self._rewrite = rewrite
        self._changes: list[tuple[int, int, str]] = []
        self._saved: set[Path] = set()
        self._going_on: dict[int, list[console.Step]] = {}
        self._document = Document.parse(
            str(path),
            PythonCodeBlockParser(doctest_optionflags=FLAGS),
            CodeBlockParser("console", self._run_console),
            CodeBlockParser("yaml", self._use_tree),
        )

    def run(self) -> Iterator[str]:
        """A report for each example that does not do what the document says."""
        for example in self._document:
            try:
                example.evaluate()
            except AssertionError as failed:
                yield f"{self.path.name}:{example.line}: {failed}"
        yield from self._check_saved()
        if self._changes:
            self._save()

    def _use_tree(self, example: Example) -> str | None:
        """Load a block, or save it as the file that the note before it names, for the commands that follow."""
        text = str(example.parsed)
        note = FILE.search(self._document.text[: example.start])
        if note is None:
            return load_tree(text)
        path = self._shell.folder / note[2]
        before = path.read_text(encoding="utf-8") + "\n" if note[1] == "add to" else ""
        path.parent.mkdir(exist_ok=True)
        path.write_text(before + text, encoding="utf-8")
        self._saved.add(path.parent)
        return None

    def _check_saved(self) -> Iterator[str]:
        """What is wrong with the saved files when the page ends; on the way there they may be half written."""
        from faultree.library.load import read

        for folder in sorted(self._saved):
            yield from (f"{self.path.name}: {problem}" for problem in read(folder).problems)

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


def load_tree(text: str) -> str | None:
    """What is wrong with a block of YAML: a whole tree file, or a piece of one that can stand by itself."""
    from faultree.base.errors import LibraryError
    from faultree.library.load import load_texts

    try:
        load_texts({"example.yaml": text if text.startswith("faultree:") else HEAD + text})
    except LibraryError as error:
        return str(error)
    return None
