"""Reads a file of the Open-PSA Model Exchange Format 2.0d as a tree file: each top gate becomes a symptom."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from faultree.base.words import listing
from faultree.library.cycles import cycles
from faultree.library.exchange.elements import Element, elements
from faultree.library.exchange.mef_causes import causes
from faultree.library.exchange.mef_expressions import Calculator, calculator
from faultree.library.exchange.mef_formulas import DEEPEST, REFERENCES, Formulas, depth, truth
from faultree.library.exchange.mef_model import Declared, Model, declarations, kept
from faultree.library.exchange.mef_names import Taken, is_name, new_id
from faultree.library.exchange.mef_scopes import Scopes, scopes
from faultree.library.exchange.written import Imported, listed, tree_text
from faultree.library.starter import title_from
from faultree.library.values import is_id, shown


class Options(NamedTuple):
    """What the format leaves open: the mission time in hours, and the likelihood of events without a figure.

    The likelihood is one of the words of a tree file or a probability.
    """

    hours: float | None = None
    likelihood: str | float | None = None


def read_open_psa(content: bytes, file: str, system: str, options: Options = Options()) -> Imported:
    """The tree file `system` of a model's bytes, or all that is wrong with it; `file` is what problems call it.

    >>> found = read_open_psa(b"<opsa-mef><define-fault-tree name='FT'/></opsa-mef>", "f.xml", "f")
    >>> print(found.problems[0])
    f.xml:1:1: the model declares no gate; declare the top event as a gate of a fault tree
    """
    marked = elements(content, file)
    if marked.root is None:
        return Imported(None, () if marked.problem is None else (marked.problem,))
    model = declarations(marked.root)
    known = scopes(model)
    if marked.root.tag == "opsa-mef" and not any(one.kind == "gate" for one in model.events):
        model.note(marked.root, "the model declares no gate", "declare the top event as a gate of a fault tree")
    made = _Reading(known, calculator(known, options.hours), options)
    data = made.data(title_from(system), file)
    if model.problems:
        return Imported(None, listed(model.problems))
    return tree_text(data, system, file, made.notes)


@dataclass
class _Reading:
    """One model on its way to a tree file."""

    scopes: Scopes
    calculator: Calculator
    options: Options
    notes: list[str] = field(default_factory=list)

    @property
    def model(self) -> Model:
        return self.scopes.model

    def of(self, kind: str) -> list[Declared]:
        """The declarations of one kind, each name once."""
        return [one for one in self.scopes.paths.values() if one.kind == kind and one.name]

    def data(self, title: str, file: str) -> dict[str, Any]:
        """The tree file as plain data."""
        self.undeclared()
        ids = self.ids()
        constants = _constants(ids.values())
        formulas = Formulas(self.scopes, ids, constants)
        tops = self.tops()
        events = dict(self.event(one, ids[one.path], formulas) for one in self.of("gate"))
        found = causes(self.of("basic event"), ids, self.calculator, self.options.likelihood)
        self.notes += found.notes
        conditions = {ids[one.path]: self.condition(one, ids[one.path]) for one in self.of("house event")}
        for value in formulas.used:
            conditions[constants[value]] = {"title": f"always {str(value).lower()}", "usually": value}
        described = {name: {**entry, **self.described(one, name)} for name, entry, one in found.entries}
        return {
            "faultree": 1,
            "title": self.title() or title,
            "summary": f"Read from a fault tree of the Open-PSA Model Exchange Format in {_last(file)}.",
            "x-open-psa": self.head(),
            "conditions": conditions,
            "items": found.items,
            "causes": described,
            "events": events,
            "symptoms": {ids[one.path]: {"title": _title(one), "event": ids[one.path]} for one in tops},
        }

    def undeclared(self) -> None:
        """Take up basic events that are used and declared nowhere, where a likelihood is given for all such."""
        if self.options.likelihood is None:
            return
        added: list[str] = []
        for gate in self.of("gate"):
            for element in _references(gate):
                name = element.attributes.get("name", "").strip()
                if element.tag == "basic-event" and is_name(name) and self.scopes.find(name, gate.scope) is None:
                    made = Declared("basic event", name, (), True, "", (), (), element)
                    self.scopes.paths[made.path] = self.scopes.names[name] = made
                    added.append(name)
        if added:
            self.notes.append(f"Declared nowhere, and taken for basic events: {listing(added)}.")

    def ids(self) -> dict[tuple[str, ...], str]:
        """An id for each event: its name where that is a legal id and free."""
        events = [one for one in self.scopes.paths.values() if one.kind != "parameter"]
        legal: dict[str, tuple[str, ...]] = {}
        for one in events:
            if is_id(one.name):
                legal.setdefault(one.name, one.path)
        taken = Taken(legal)
        return {
            one.path: one.name
            if legal.get(one.name) == one.path
            else taken.free(new_id("_".join(one.path) if one.name in legal else one.name, one.kind))
            for one in events
        }

    # ---- entries

    def event(self, gate: Declared, name: str, formulas: Formulas) -> tuple[str, dict[str, Any]]:
        """The event of a gate; a formula that only names another event is "all" of that one."""
        operand = formulas.operand(gate.body[0], gate.scope) if gate.body else None
        if operand is None or isinstance(operand, str):
            operand = {"all": [operand or name]}
        if depth(operand) > DEEPEST:
            self.model.note(
                gate.element, f"the formula of {gate.called} is nested too deeply", "give parts of it gates"
            )
        return name, {"title": _title(gate), **operand, **self.described(gate, name)}

    def condition(self, house: Declared, name: str) -> dict[str, Any]:
        """The condition of a house event; without a constant it is false."""
        value: bool | None = False
        for element in house.body[:1]:
            if element.tag == "constant":
                value = truth(element, self.scopes)
            else:
                message = f"'{shown(element.tag)}' in {house.called}"
                self.model.note(element, message, 'write <constant value="true"/> or "false"')
        usually = {"usually": True} if value else {}
        return {"title": _title(house), **usually, **self.described(house, name)}

    def described(self, one: Declared, name: str) -> dict[str, Any]:
        """What an entry keeps of a declaration under keys of its own."""
        found: dict[str, Any] = {}
        if one.name != name:
            found["x-name"] = one.name
        trees = sum(container.kind == "fault tree" for container in self.model.containers)
        if len(one.scope) > 1 or (one.scope and trees > 1):
            found["x-container"] = ".".join(one.scope)
        if not one.public:
            found["x-role"] = "private"
        if one.kind != "basic event" and one.attributes:
            found["x-attributes"] = kept(one.attributes)
        return found

    # ---- the whole

    def tops(self) -> list[Declared]:
        """The gates that no other gate uses; gates that depend on themselves are noted."""
        gates = {one.path: one for one in self.of("gate")}
        uses = {path: [found.path for found in self.used(one)] for path, one in gates.items()}
        names = {path: ".".join(path) for path in gates}
        for circle in cycles({names[path]: [names.get(other, "") for other in inner] for path, inner in uses.items()}):
            first = next(gates[path] for path in gates if names[path] == circle[0])
            way = " -> ".join(shown(name.rpartition(".")[2]) for name in (*circle[:8], circle[0]))
            self.model.note(first.element, f"the gate depends on itself: {way}", "break the circle")
        below = {path for inner in uses.values() for path in inner}
        return [one for path, one in gates.items() if path not in below]

    def used(self, gate: Declared) -> Iterator[Declared]:
        """The events that a gate names."""
        for element in _references(gate):
            found = self.scopes.find(element.attributes.get("name", "").strip(), gate.scope)
            if found is not None:
                yield found

    def title(self) -> str:
        """What the model is called: by its label, or by its only fault tree's, or by a name of theirs."""
        trees = [one for one in self.model.containers if one.kind == "fault tree"]
        named = [*(one for one in self.model.containers if one.kind == "model"), *(trees if len(trees) == 1 else ())]
        labels = [one.label for one in named if one.label] or [title_from(one.name) for one in named if one.name]
        return labels[0] if labels else ""

    def head(self) -> dict[str, Any]:
        """What the file keeps of its containers and parameters."""
        containers: dict[str, Any] = {}
        for one in self.model.containers:
            entry = _entry(one, {"label": one.label})
            if entry or one.kind in ("fault tree", "component"):
                containers[" ".join(part for part in (one.kind, ".".join(one.path)) if part)] = entry
        parameters = {}
        for one in self.of("parameter"):
            value = self.calculator.parameters.get(one.path)
            if value is not None:
                own = {"label": one.label, "unit": one.element.attributes.get("unit", "")}
                parameters[".".join(one.path)] = _entry(one, {"expression": value.text, "value": value.number, **own})
        found = {"containers": containers, "parameters": parameters, "hours": self.options.hours}
        return {key: value for key, value in found.items() if value}


def _entry(one: Declared, fields: Mapping[str, Any]) -> dict[str, Any]:
    found = {key: value for key, value in fields.items() if value not in ("", None)}
    return {**found, "attributes": kept(one.attributes)} if one.attributes else found


def _references(gate: Declared) -> Iterator[Element]:
    return (element for body in gate.body for element in body.walk() if element.tag in REFERENCES)


def _constants(taken: Iterable[str]) -> dict[bool, str]:
    free = Taken(taken)
    return {value: free.free(f"always-{str(value).lower()}") for value in (True, False)}


def _title(one: Declared) -> str:
    return one.label or title_from(one.name) or one.name


def _last(file: str) -> str:
    """The name of a file without its folders, as it can stand in a text."""
    return shown(file.replace("\\", "/").rpartition("/")[2])
