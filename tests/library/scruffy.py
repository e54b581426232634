"""Tree files as hurried people write them: the same content, with keys, quotes, brackets and comments at random."""

from __future__ import annotations

import random
from itertools import count

from faultree.library.marked import Array, Node, Scalar, Table, parse
from faultree.library.values import number


def scruffy(text: str, rng: random.Random) -> tuple[str, list[str]]:
    """The text written otherwise, and the comments that were strewn in, each with a number of its own."""
    root = parse(text, "a.yaml").root
    assert root is not None
    hand = _Hand(rng)
    lines = [*hand.notes(0), *hand.block(root, 0), *hand.notes(0)]
    return "\n".join(lines) + "\n" * rng.randint(0, 2), hand.strewn


class _Hand:
    """Writes one file."""

    def __init__(self, rng: random.Random) -> None:
        self.rng = rng
        self.numbers = count()
        self.strewn: list[str] = []

    def chance(self, share: float) -> bool:
        return self.rng.random() < share

    def note(self) -> str:
        found = f"# note {next(self.numbers)}: 'a' {{b}} #c"
        self.strewn.append(found)
        return found

    def notes(self, indent: int) -> list[str]:
        """Nothing, or some comments and empty lines."""
        if self.chance(0.8):
            return []
        return [" " * indent + self.note() if self.chance(0.7) else "" for _ in range(self.rng.randint(1, 3))]

    def beside(self, line: str) -> str:
        return f"{line} {self.note()}" if self.chance(0.15) else line

    def scalar(self, node: Scalar) -> str:
        if not node.plain or number(node.text) is not None or not node.text:
            return node.text if node.plain else "'" + node.text.replace("'", "''") + "'"
        bare = not any(sign in node.text for sign in "\n:#,[]{}\"'>|") and node.text == node.text.strip()
        style = self.rng.choice(["", "", "", "'", '"'] if bare else ["'"])
        return style + node.text.replace("'", "''" if style == "'" else "'") + style

    def pairs(self, node: Table) -> list[tuple[Scalar, Node]]:
        """The fields of an entry in any order; ids keep theirs."""
        pairs = list(node.pairs)
        if any(key.text == "title" for key, _ in pairs):
            self.rng.shuffle(pairs)
        return pairs

    def flow(self, node: Node) -> str:
        """In brackets; now and then over several lines, with a comment within."""
        if isinstance(node, Scalar):
            return self.scalar(node)
        noted, spaces = self.chance(0.05), self.rng.randint(1, 2)

        def gap() -> str:
            return f" {self.note()}\n     " if noted else " " * spaces

        if isinstance(node, Array):
            return f"[{''.join(f'{gap()}{self.flow(one)},' for one in node.entries)}{gap()}]"
        assert isinstance(node, Table)
        parts = [f"{self.scalar(key)}: {self.flow(value)}" for key, value in self.pairs(node)]
        return f"{{{''.join(f'{gap()}{part},' for part in parts)}{gap()}}}"

    def block(self, node: Node, indent: int) -> list[str]:
        """The entries of a mapping or a list, each on a line of its own."""
        found = []
        pairs = self.pairs(node) if isinstance(node, Table) else [(None, one) for one in _entries(node)]
        for key, value in pairs:
            found += self.notes(indent)
            start = " " * indent + ("-" if key is None else f"{self.scalar(key)}:")
            found += self.value(start, value, indent)
        return found

    def value(self, start: str, node: Node, indent: int) -> list[str]:
        if isinstance(node, Scalar):
            if not node.plain or " " not in node.text or self.chance(0.8):
                return [self.beside(f"{start}  {self.scalar(node)}")]
            body = node.text.replace(" ", "\n" + " " * (indent + 3), 1)
            return [*self.beside(f"{start} >-").split("\n"), *(" " * (indent + 3) + body).split("\n")]
        if self.chance(0.5) or not _size(node):
            return self.beside(f"{start} {self.flow(node)}").split("\n")
        inner = self.block(node, indent + self.rng.randint(1, 4))
        if start.endswith("-") and inner[0].strip() and not inner[0].lstrip().startswith("#") and self.chance(0.7):
            width = len(inner[0]) - len(inner[0].lstrip())
            return [start.ljust(width) + inner[0].lstrip(), *inner[1:]] if width > len(start) else [start, *inner]
        return [self.beside(start), *inner]


def _entries(node: Node) -> tuple[Node, ...]:
    assert isinstance(node, Array)
    return node.entries


def _size(node: Node) -> int:
    return len(node.pairs) if isinstance(node, Table) else len(_entries(node))
