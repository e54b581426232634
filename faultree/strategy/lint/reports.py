"""Rules about symptoms: each is the work of some fault, is shown diagnosed, and has phrases of its own."""

from __future__ import annotations

import re
from collections.abc import Iterator

from faultree.belief.engine import TooWide
from faultree.logic.simulate import evaluate, value_of
from faultree.strategy.lint.study import Found, Study, called, name_in, undecided, where


def no_cause(study: Study) -> Iterator[Found]:
    """Symptoms that no fault set shows."""
    for name, symptom in study.library.symptoms.items():
        literal = study.oracle.view(symptom.situation).literal(study.frame.seen[name])
        study.oracle.effort.renew()
        try:
            if study.oracle.witness(literal) is None:
                message = f"no causes produce {called(symptom)}, {where(symptom, symptom.situation)}"
                yield Found(symptom, message, "mend what it sees, its situation or the logic below it")
        except TooWide:
            yield undecided(symptom, f"whether some causes produce {called(symptom)}")


def always_there(study: Study) -> Iterator[Found]:
    """Symptoms that are there with nothing wrong."""
    for name, symptom in study.library.symptoms.items():
        values = evaluate(study.frame.graph, study.library.settings(symptom.situation), frozenset())
        if value_of(values, study.frame.seen[name]):
            state = where(symptom, symptom.situation)
            message = f"{called(symptom)} is there with nothing wrong, {state}"
            yield Found(symptom, message, "mend what it sees, its situation or the logic below it")


def no_example(study: Study) -> Iterator[Found]:
    """Symptoms that no example shows diagnosed, though one could."""
    shown = {name for example in study.library.examples for name in example.symptoms}
    shown |= {found.entry.id for found in no_cause(study) if not found.undecided}
    for name, symptom in study.library.symptoms.items():
        if name not in shown:
            hint = "add one under 'examples': answers, and the cause that then ranks first"
            yield Found(symptom, f"no example shows {called(symptom)}", hint)


def same_words(study: Study) -> Iterator[Found]:
    """Symptoms that list a phrase which another lists as well: it cannot say which of the two is meant."""
    symptoms = study.library.symptoms
    first: dict[str, str] = {}
    for name, symptom in symptoms.items():
        own = {_plain(phrase): phrase for phrase in reversed(symptom.words)}
        for plain, phrase in reversed(own.items()):
            other = first.setdefault(plain, name)
            if other != name:
                message = f"{called(symptom)} lists the phrase '{phrase}', which {name_in(symptom, other)} lists too"
                hint = "let it say what tells the two apart, or leave it to the one that is meant more often"
                yield Found(symptom, message, hint, (symptoms[other],))


def _plain(phrase: str) -> str:
    """A phrase without case and signs.

    >>> _plain("Boards didn't pop-up!")
    'boards didn t pop up'
    """
    return " ".join(re.findall(r"\w+", phrase.casefold()))
