"""The order of keys is that of the format; what an author orders stays as it is."""

from __future__ import annotations

from faultree.library.arrange import SECTIONS, arranged
from faultree.library.commented import Group, Part, read
from faultree.library.shapes import FILE, NOUNS


def _keys(part: Part) -> list[str]:
    assert isinstance(part, Group)
    return [one.key.text for one in part.entries if one.key is not None]


def _arranged(text: str) -> Group:
    return arranged(read(text).root)


def _at(part: Part, *path: str | int) -> Part:
    for step in path:
        assert isinstance(part, Group)
        if isinstance(step, int):
            part = part.entries[step].value
        else:
            part = next(one.value for one in part.entries if one.key is not None and one.key.text == step)
    return part


def test_the_keys_of_a_file() -> None:
    """The head, then an author's own keys, then the sections."""
    names = list(FILE.fields)
    root = _arranged("x-b: 1\n" + "".join(f"{name}: 1\n" for name in reversed(names)) + "x-a: 2\n")
    place = names.index("likelihoods")
    assert _keys(root) == [*names[:place], "x-b", "x-a", *names[place:]]
    assert set(NOUNS) | {"examples"} == set(SECTIONS)


def test_the_fields_of_an_entry_and_not_the_entries() -> None:
    root = _arranged("items:\n  z: {x-n: 1, minutes: 2, title: Z}\n  a: {minutes: 2, title: A}\n")
    assert _keys(_at(root, "items")) == ["z", "a"]
    assert _keys(_at(root, "items", "z")) == ["title", "minutes", "x-n"]


def test_settings_answers_and_own_values_stay() -> None:
    """Their order is what the author wants to be shown, or means nothing to us."""
    root = _arranged(
        "situations: {s: {sets: {title: yes, a: no}, title: S}}\n"
        "checks: {k: {answers: {z: {when: c, text: Z}, a: {text: A, when: otherwise}}, title: K}}\n"
        "x-own: {title: 1, faultree: 2, at_least: {of: 1, count: 2}, a: 0}\n"
    )
    assert _keys(_at(root, "situations", "s", "sets")) == ["title", "a"]
    assert _keys(_at(root, "checks", "k", "answers")) == ["z", "a"]
    assert _keys(_at(root, "checks", "k", "answers", "z")) == ["text", "when"]
    assert _keys(_at(root, "x-own")) == ["title", "faultree", "at_least", "a"]
    assert _keys(_at(root, "x-own", "at_least")) == ["of", "count"]


def test_lists_of_examples_and_votes_at_any_depth() -> None:
    root = _arranged(
        "examples: [{expect: {at_least: 0.5, first: c}, symptom: s, title: X}]\n"
        "signals: {s: {lost_if: [{any: [{at_least: {of: [a], count: 1}}]}],\n"
        "  follows: {at_least: {of: [b], count: 1}}}}\n"
        "events: {e: {at_least: {of: [a], count: 1}}}\n"
        "checks: {k: {answers: {a: {when: {at_least: {of: [a], count: 1}}, text: A}}}}\n"
    )
    assert _keys(_at(root, "examples", 0)) == ["title", "symptom", "expect"]
    assert _keys(_at(root, "examples", 0, "expect")) == ["first", "at_least"]
    assert _keys(_at(root, "signals", "s")) == ["follows", "lost_if"]
    for path in (
        ("signals", "s", "follows", "at_least"),
        ("signals", "s", "lost_if", 0, "any", 0, "at_least"),
        ("events", "e", "at_least"),
        ("checks", "k", "answers", "a", "when", "at_least"),
    ):
        assert _keys(_at(root, *path)) == ["count", "of"]


def test_sections_stand_below_each_other() -> None:
    """Whatever brackets they came in; an empty one keeps them."""
    root = _arranged("{items: {i: {title: I}}, causes: {}, examples: [{title: X}], likelihoods: {frequent: 0.1}}")
    flows = {one.key.text: one.value.flow for one in root.entries if one.key and isinstance(one.value, Group)}
    assert flows == {"items": False, "causes": True, "examples": False, "likelihoods": True}
    assert not root.flow
