"""Short models of the Open-PSA format for tests, and what reading them gives."""

from __future__ import annotations

from faultree.library import model
from faultree.library.exchange.open_psa import Options, read_open_psa
from faultree.library.load import load_texts

E1 = '<define-basic-event name="e1"><float value="0.1"/></define-basic-event>'
E2 = '<define-basic-event name="e2"><float value="0.2"/></define-basic-event>'
E3 = '<define-basic-event name="e3"><float value="0.3"/></define-basic-event>'


def wrapped(inner: str, data: str = E1 + E2 + E3) -> bytes:
    """A model of one fault tree, on one line, and of some data on the next."""
    tree = f'<opsa-mef><define-fault-tree name="FT">{inner}</define-fault-tree>'
    return f"{tree}\n<model-data>{data}</model-data></opsa-mef>".encode()


def gate(formula: str, name: str = "top") -> str:
    """The declaration of a gate."""
    return f'<define-gate name="{name}">{formula}</define-gate>'


def library(content: bytes, options: Options = Options()) -> model.Library:
    """The library that a model becomes, in the file `f.yaml`."""
    found = read_open_psa(content, "f.xml", "f", options)
    assert found.text is not None, "\n".join(map(str, found.problems))
    return load_texts({"f.yaml": found.text})


def problems(content: bytes, options: Options = Options()) -> list[str]:
    """What is wrong with a model, without the name of the file; no text comes with it."""
    found = read_open_psa(content, "f.xml", "f", options)
    assert found.text is None
    return [str(one).removeprefix("f.xml:") for one in found.problems]


def operand(formula: str) -> model.Gate:
    """What a formula becomes below the top event."""
    return library(wrapped(gate(formula))).events["f/top"].gate
