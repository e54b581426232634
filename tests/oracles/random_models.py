"""Random models of the Open-PSA Model Exchange Format that use every construct that is read."""

from __future__ import annotations

import random

CONNECTIVES = ("and", "or", "not", "xor", "iff", "nand", "nor", "imply", "atleast", "cardinality")


def random_model(rng: random.Random) -> str:
    """The text of a model with two to six basic events and one to six gates, of which later ones use earlier ones."""
    events = [f"e{number}" for number in range(1, rng.randint(3, 7))]
    houses = [f"h{number}" for number in range(1, rng.randint(1, 3))]
    known = [("basic-event", name) for name in events] + [("house-event", name) for name in houses]
    gates = []
    for number in range(1, rng.randint(2, 7)):
        gates.append(f'<define-gate name="g{number}">{_formula(rng, known, 2)}</define-gate>')
        known.append(("gate", f"g{number}"))
    rng.shuffle(gates)
    half = len(gates) // 2
    inner = "".join(gates[:half])
    component = f'<define-component name="C">{inner}</define-component>' if inner else ""
    house = "".join(
        f'<define-house-event name="{name}">{rng.choice(["", _constant(rng)])}</define-house-event>' for name in houses
    )
    data = "".join(f'<define-basic-event name="{name}">{_expression(rng)}</define-basic-event>' for name in events)
    rate = f'<define-parameter name="rate"><float value="{rng.uniform(1e-4, 1e-2)!r}"/></define-parameter>'
    rest = "".join(gates[half:])
    tree = f'<define-fault-tree name="FT">{component}{rest}{house}</define-fault-tree>'
    return f"<!DOCTYPE opsa-mef>\n<opsa-mef>{tree}<model-data>{data}{rate}</model-data></opsa-mef>"


def _constant(rng: random.Random) -> str:
    return f'<constant value="{rng.choice(["true", "false"])}"/>'


def _expression(rng: random.Random) -> str:
    number = f'<float value="{rng.uniform(0.01, 0.4)!r}"/>'
    time = rng.choice(["<system-mission-time/>", '<float value="12"/>'])
    law = f'<exponential><parameter name="rate"/>{time}</exponential>'
    return rng.choice([number, law, f"<mul>{number}{law}</mul>"])


def _formula(rng: random.Random, known: list[tuple[str, str]], depth: int) -> str:
    if depth == 0 or rng.random() < 0.3:
        tag, name = rng.choice(known)
        return _constant(rng) if rng.random() < 0.05 else f'<{rng.choice([tag, "event"])} name="{name}"/>'
    tag = rng.choice(CONNECTIVES)
    count = {"not": 1, "imply": 2, "nand": rng.randint(1, 2), "nor": rng.randint(1, 2)}.get(tag, rng.randint(1, 4))
    limits = ""
    if tag == "atleast":
        limits = f' min="{rng.randint(1, count)}"'
    if tag == "cardinality":
        low = rng.randint(0, count)
        limits = f' min="{low}" max="{rng.randint(low, count + 1)}"'
    return f"<{tag}{limits}>{''.join(_formula(rng, known, depth - 1) for _ in range(count))}</{tag}>"
