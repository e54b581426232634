"""Finds what a reference of an Open-PSA model means: by name, by local path or by full path of containers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

from faultree.library.exchange.elements import Element
from faultree.library.exchange.mef_model import Declared, Model
from faultree.library.exchange.mef_names import is_path
from faultree.library.findings import Guesses
from faultree.library.records import article
from faultree.library.values import shown


@dataclass(frozen=True)
class Scopes:
    """The declarations of a model by path, and the public ones by name."""

    model: Model
    paths: dict[tuple[str, ...], Declared] = field(default_factory=dict)
    names: dict[str, Declared] = field(default_factory=dict)
    guesses: Guesses = field(default_factory=Guesses)

    def find(self, name: str, scope: Sequence[str]) -> Declared | None:
        """What a name or path means in a container: the nearest declaration, else the public one of that name."""
        parts = tuple(name.split("."))
        for depth in range(len(scope), -1, -1):
            found = self.paths.get((*scope[:depth], *parts))
            if found is not None:
                return found
        return self.names.get(name)

    def need(self, element: Element, scope: Sequence[str], what: str) -> Declared | None:
        """The declaration that an element refers to, of the kind `what`; None after a problem is noted.

        Every kind of event will do where `what` is "event".
        """
        name = element.attributes.get("name", "").strip()
        if not is_path(name):
            said = f"'{shown(name)}' is no name of" if name else "there is no name of"
            self.model.note(element, f"{said} {article(what)}", "write the name of a declaration")
            return None
        found = self.find(name, scope)
        if found is None:
            self.model.note(element, f"the {what} '{shown(name)}' is declared nowhere", self._remedy(name, what))
        elif what not in ("event", found.kind) or (what == "event" and found.kind == "parameter"):
            message = f"'{shown(name)}' is the {found.kind} of line {found.element.at.line}, not {article(what)}"
            tag = found.kind.replace(" ", "-")
            self.model.note(element, message, f'write <{tag} name="{shown(name)}"/>, or correct the name')
            return None
        return found

    def _remedy(self, name: str, what: str) -> str:
        options = self._options["parameter" if what == "parameter" else "event"]
        if name in options:
            hidden = options[name]
            return f"the one in '{hidden}' is private: write '{hidden}.{name}'"
        meant = self.guesses.meant(name, options)
        if meant:
            return f"did you mean '{shown(meant)}'?"
        if what == "basic event":
            return f"declare it with its probability, or {NO_FIGURE}"
        return "add its declaration"

    @cached_property
    def _options(self) -> dict[str, dict[str, str]]:
        """The names that are declared, each with a container that holds it; of parameters, and of events."""
        parameters = {one.name: ".".join(one.scope) for one in self.model.parameters}
        return {"parameter": parameters, "event": {one.name: ".".join(one.scope) for one in self.model.events}}


NO_FIGURE = "give all events without a figure one likelihood (--likelihood)"
"""The remedy where a basic event has no probability."""


def scopes(model: Model) -> Scopes:
    """The scopes of a model; names that are declared twice are noted, and the first one counts."""
    known = Scopes(model)
    for one in (*model.events, *model.parameters):
        first = known.paths.setdefault(one.path, one)
        if first is one and one.public:
            first = known.names.setdefault(one.name, one)
        if first is not one and one.name:
            line = first.element.at.line
            message = f"the name '{shown(one.name)}' is that of the {first.kind} on line {line} already"
            model.note(one.element, message, "rename one of the two, or remove one")
    _containers(model)
    return known


def _containers(model: Model) -> None:
    seen: dict[tuple[str, ...], Declared] = {}
    for one in model.containers:
        if one.kind in ("fault tree", "component"):
            first = seen.setdefault(one.path, one)
            if first is not one:
                message = f"{one.called} is there already, on line {first.element.at.line}"
                model.note(one.element, message, "rename one of the two")
