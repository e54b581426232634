"""Random small libraries that use every construct of the format, as YAML text read by the real reader."""

from __future__ import annotations

import random
from dataclasses import dataclass
from functools import cached_property

from hypothesis import strategies as st

from faultree.library import model
from faultree.library.load import load_texts
from tests.oracles.tree_text import Plain, document

BANDS = ("frequent", "probable", "occasional", "remote", "improbable")
SECTIONS = (
    "conditions", "situations", "items", "causes", "signals", "events", "access", "cautions", "checks", "symptoms",
)  # fmt: skip


@dataclass(frozen=True)
class Size:
    """Upper limits for a random library; `fault_sets` caps the number of sets to enumerate."""

    files: int = 3
    conditions: int = 4
    situations: int = 3
    fault_sets: int = 256
    nodes: int = 12
    checks: int = 6
    symptoms: int = 4
    depth: int = 2


class _Writer:
    """Draws one library; nodes are made in an order in which each may use the earlier ones."""

    def __init__(self, rng: random.Random, size: Size) -> None:
        self.rng = rng
        self.size = size
        self.files = ["alpha", "beta", "gamma"][: rng.randint(1, size.files)]
        self.sections: dict[str, dict[str, dict[str, dict[str, Plain]]]] = {
            file: {section: {} for section in SECTIONS} for file in self.files
        }
        self.names: dict[str, list[str]] = {section: [] for section in SECTIONS}
        self.usable: list[str] = []
        self.unused: list[str] = []

    def chance(self, share: float) -> bool:
        return self.rng.random() < share

    def some(self, options: list[str], low: int, high: int) -> list[str]:
        return self.rng.sample(options, min(len(options), self.rng.randint(low, high)))

    def add(self, section: str, stem: str, fields: dict[str, Plain], file: str) -> str:
        """Put an entry into a file and give its full id."""
        short = f"{stem}{len(self.names[section]) + 1}"
        named: dict[str, Plain] = {} if section == "cautions" else {"title": f"The {stem} {short}"}
        self.sections[file][section][short] = named | fields
        self.names[section].append(f"{file}/{short}")
        return f"{file}/{short}"

    def file(self) -> str:
        return self.rng.choice(self.files)

    @staticmethod
    def local(full: str, file: str) -> str:
        """A full id as it is written in `file`: short at home, full elsewhere."""
        home, _, short = full.partition("/")
        return short if home == file else full

    # ---- the parts of a library

    def conditions(self) -> None:
        for _ in range(self.rng.randint(0, self.size.conditions)):
            fields: dict[str, Plain] = {"usually": self.chance(0.5)} if self.chance(0.7) else {}
            self.usable.append(self.add("conditions", "fact", fields, self.file()))

    def situations(self) -> None:
        facts = self.names["conditions"]
        for _ in range(self.rng.randint(0, self.size.situations) if facts else 0):
            file = self.file()
            sets = {self.local(fact, file): self.chance(0.5) for fact in self.some(facts, 1, 3)}
            fields: dict[str, Plain] = {"sets": sets}
            if self.names["situations"] and self.chance(0.4):
                fields["extends"] = self.local(self.rng.choice(self.names["situations"]), file)
            self.add("situations", "setting", fields, file)

    def likelihood(self) -> dict[str, Plain]:
        form = self.rng.random()
        if form < 0.6:
            low, high = (0.02, 0.3) if self.chance(0.8) else (1e-4, 1e-3)
            return {"probability": round(self.rng.uniform(low, high), 6)}
        if form < 0.8:
            rate: dict[str, Plain] = {"rate": round(self.rng.uniform(1e-5, 1e-3), 7)}
            return rate | ({"hours": self.rng.choice([10, 100.0, 250])} if self.chance(0.7) else {})
        return {"likelihood": self.rng.choice(BANDS)}

    def causes(self) -> None:
        left = self.rng.randint(min(8, self.size.fault_sets), self.size.fault_sets)
        while left >= 2:
            file = self.file()
            modes = self.rng.randint(1, min(3, left - 1))
            left //= modes + 1
            if modes == 1 and self.chance(0.5):
                self.cause(file, {"minutes": self.rng.randint(5, 90)} if self.chance(0.5) else {})
                continue
            work: dict[str, Plain] = {"minutes": self.rng.randint(5, 90)} if self.chance(0.7) else {}
            item = self.add("items", "part", work | self.needs_access(file, 0.2), file)
            for _ in range(modes):
                home = self.file() if self.chance(0.15) else file
                self.cause(home, {"item": self.local(item, home)})

    def cause(self, file: str, fields: dict[str, Plain]) -> None:
        full = self.add("causes", "fault", fields | self.likelihood(), file)
        self.usable.append(full)
        self.unused.append(full)

    def needs_access(self, file: str, share: float) -> dict[str, Plain]:
        if not (self.names["access"] and self.chance(share)):
            return {}
        return {"access": [self.local(one, file) for one in self.some(self.names["access"], 1, 2)]}

    def access(self) -> None:
        for _ in range(self.rng.randint(0, 3)):
            self.add("access", "panel", {"minutes": self.rng.randint(1, 40)}, self.file())
        for _ in range(self.rng.randint(0, 2)):
            level = self.rng.choice(["warning", "caution", "note"])
            self.add("cautions", "care", {"text": "Keep clear", "level": level}, self.file())

    def operands(self, file: str, low: int, high: int, depth: int) -> list[Plain]:
        """Operands of which no two name the same node; nodes that nothing uses yet are preferred."""
        taken: set[str] = set()
        found: list[Plain] = []
        for _ in range(self.rng.randint(low, high)):
            if depth > 0 and self.chance(0.2):
                found.append(self.gate(file, depth - 1))
                continue
            pool = self.unused if self.unused and self.chance(0.7) else self.usable
            name = self.rng.choice(pool)
            if name not in taken:
                taken.add(name)
                if name in self.unused:
                    self.unused.remove(name)
                found.append(self.local(name, file))
        return found

    def gate(self, file: str, depth: int) -> dict[str, Plain]:
        kind = self.rng.choices(["all", "any", "not", "none", "at_least", "one_of"], [4, 8, 2, 1.5, 2.5, 2])[0]
        if kind == "not":
            return {kind: self.operands(file, 1, 1, depth)[0]}
        operands = self.operands(file, 2, 4, depth)
        if kind == "at_least":
            return {kind: {"count": self.rng.randint(1, len(operands)), "of": operands}}
        return {kind: operands}

    def nodes(self) -> None:
        for _ in range(self.rng.randint(3, self.size.nodes)):
            file = self.file()
            if self.chance(0.5):
                full = self.add("events", "event", self.gate(file, self.size.depth), file)
            else:
                full = self.add("signals", "signal", self.signal(file), file)
            self.usable.append(full)
            self.unused.append(full)

    def signal(self, file: str) -> dict[str, Plain]:
        fields: dict[str, Plain] = {}
        if self.chance(0.7):
            (fields["follows"],) = self.operands(file, 1, 1, self.size.depth)
        if "follows" not in fields or self.chance(0.7):
            fields["lost_if"] = self.operands(file, 1, 3, 1)
        if self.chance(0.4):
            fields["forced_if"] = self.operands(file, 1, 2, 1)
        return fields | ({"undeveloped": True} if self.chance(0.1) else {})

    def setting(self, file: str) -> dict[str, Plain]:
        if not (self.names["situations"] and self.chance(0.6)):
            return {}
        return {"situation": self.local(self.rng.choice(self.names["situations"]), file)}

    def wrong(self) -> float:
        return round(self.rng.uniform(0.01, 0.3), 3)

    def checks(self) -> None:
        for _ in range(self.rng.randint(2, self.size.checks)):
            file = self.file()
            fields: dict[str, Plain] = {"ask": "What is seen", "minutes": self.rng.randint(1, 40)}
            fields |= self.setting(file) | self.needs_access(file, 0.3)
            if self.names["cautions"] and self.chance(0.3):
                fields["cautions"] = [self.local(self.rng.choice(self.names["cautions"]), file)]
            if self.chance(0.5):
                fields["by"] = self.rng.choice(["crew", "line", "shop"])
            if self.chance(0.6):
                fields["reads"] = self.local(self.rng.choice(self.usable), file)
                fields |= {key: self.wrong() for key in ("false_yes", "false_no") if self.chance(0.3)}
            else:
                fields["answers"] = self.answers(file)
                fields |= {"error": self.wrong()} if self.chance(0.3) else {}
            self.add("checks", "look", fields, file)

    def answers(self, file: str) -> dict[str, Plain]:
        """Answers of which exactly one holds whatever is true: a decision list, or how many of some nodes hold."""
        whens = self.decision_list(file) if self.chance(0.6) else self.by_count(file)
        return {f"a{place}": {"text": f"Answer {place}", "when": when} for place, when in enumerate(whens, 1)}

    def decision_list(self, file: str) -> list[Plain]:
        tests = self.operands(file, 1, 3, 1)
        whens: list[Plain] = []
        for place, test in enumerate(tests):
            whens.append({"all": [*({"not": one} for one in tests[:place]), test]} if place else test)
        return [*whens, "otherwise" if self.chance(0.7) else {"none": tests}]

    def by_count(self, file: str) -> list[Plain]:
        nodes: list[Plain] = [self.local(one, file) for one in self.some(self.usable, 2, 4)]
        if len(nodes) < 2:
            return [nodes[0], {"not": nodes[0]}]
        if len(nodes) == 2:
            return [{"none": nodes}, {"one_of": nodes}, {"all": nodes}]
        two: Plain = {"at_least": {"count": 2, "of": nodes}}
        three: Plain = {"at_least": {"count": 3, "of": nodes}}
        return [{"none": nodes}, {"one_of": nodes}, {"all": [two, {"not": three}]}, three]

    def symptoms(self) -> None:
        gates = self.names["signals"] + self.names["events"]
        for _ in range(self.rng.randint(1, self.size.symptoms)):
            file = self.file()
            fields = self.setting(file)
            if self.chance(0.5):
                fields["event"] = self.local(self.rng.choice(gates), file)
            else:
                seen = self.some(gates, 1, 2) + self.some(self.usable, 0, 1)
                fields["sees"] = {self.local(name, file): self.chance(0.6) for name in seen}
            if self.chance(0.25):
                fields["false_report"] = self.wrong()
            if self.chance(0.5):
                fields["retest"] = self.rng.randint(0, 30)
            self.add("symptoms", "report", fields, file)


@dataclass(frozen=True)
class RandomLibrary:
    """The texts of a random library, by file name, and the library that they make."""

    texts: dict[str, str]

    @cached_property
    def library(self) -> model.Library:
        """The library as the reader gives it."""
        return load_texts(self.texts)

    def __repr__(self) -> str:
        return "\n".join(f"# {name}\n{text}" for name, text in self.texts.items())


USUAL = Size()
SMALL = Size(files=2, nodes=6, checks=3, symptoms=2, fault_sets=64)


def random_library(rng: random.Random, size: Size = USUAL) -> RandomLibrary:
    """A library drawn with `rng`; the same state of `rng` gives the same texts."""
    writer = _Writer(rng, size)
    for part in (writer.conditions, writer.situations, writer.access, writer.causes):
        part()
    for part in (writer.nodes, writer.checks, writer.symptoms):
        part()
    return RandomLibrary({f"{file}.yaml": document(f"System {file}", writer.sections[file]) for file in writer.files})


def libraries(
    size: Size = Size(files=2, nodes=6, checks=3, symptoms=2, fault_sets=64),
) -> st.SearchStrategy[RandomLibrary]:
    """A Hypothesis strategy over random libraries; every draw is Hypothesis's own, so that examples shrink."""
    return st.randoms(use_true_random=False).map(lambda rng: random_library(rng, size))
