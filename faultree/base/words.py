"""Small helpers that turn names and numbers into words."""

from __future__ import annotations

import difflib
from collections.abc import Iterable


def near(name: str, options: Iterable[str], count: int = 3) -> list[str]:
    """The options that a person who typed `name` most likely meant, closest first.

    >>> near("lft-sensor", ["left-sensor", "pump"])
    ['left-sensor']
    """
    table = {option.casefold(): option for option in options}
    found = difflib.get_close_matches(name.casefold(), table, n=count, cutoff=0.6)
    return [table[key] for key in found]


def did_you_mean(name: str, options: Iterable[str], otherwise: str) -> str:
    """A remedy for an unknown name: the nearest option as a question, else `otherwise`.

    >>> did_you_mean("tittle", ["title", "item"], "remove it")
    "did you mean 'title'?"
    """
    found = near(name, options, 1)
    return f"did you mean '{found[0]}'?" if found else otherwise


def listing(names: Iterable[str], word: str = "and") -> str:
    """Names joined as in a sentence.

    >>> listing(["a", "b", "c"])
    'a, b and c'
    """
    parts = list(names)
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {word} {parts[-1]}"


def capital(words: str) -> str:
    """Words as they begin a line; all else stays as it is.

    >>> capital("iron pump worn"), capital("")
    ('Iron pump worn', '')
    """
    return words[:1].upper() + words[1:]


def sentence(words: object) -> str:
    """Words, or what an error says, as a sentence.

    >>> sentence("no report is named"), sentence(ValueError("Why not?"))
    ('No report is named.', 'Why not?')
    """
    text = capital(str(words))
    return text if text.endswith((".", "?", "!")) else f"{text}."


def percent(probability: float) -> str:
    """A probability as a person reads it: never rounded to a certainty that it is not.

    >>> percent(0.4213), percent(0.0996), percent(0.00002), percent(0.99997), percent(1.0)
    ('42 %', '10 %', '<0.1 %', '>99.9 %', '100 %')
    """
    if probability <= 0.0:
        return "0 %"
    if probability >= 1.0:
        return "100 %"
    if probability < 0.001:
        return "<0.1 %"
    if probability > 0.999:
        return ">99.9 %"
    return f"{100 * probability:.1f} %" if not 0.0995 <= probability < 0.995 else f"{100 * probability:.0f} %"


def and_more(count: int, at_most: float, last: float | None = None) -> str:
    """How many more there are and how likely they are at most; `last` is the likelihood of the last one shown.

    >>> and_more(20, 0.009, 0.25), and_more(3, 0.16, 0.16), and_more(7, 0.0002)
    ('and 20 more, none above 0.9 %', 'and 3 more, the likeliest of them 16 % too', 'and 7 more, each below 0.1 %')
    """
    if at_most < 0.001:
        return f"and {count} more, each below 0.1 %"
    if last is not None and percent(last) == percent(at_most):
        return f"and {count} more, the likeliest of them {percent(at_most)} too"
    return f"and {count} more, none above {percent(at_most)}"


def minutes(value: float) -> str:
    """A duration as a person says it.

    >>> minutes(4.6), minutes(40.5), minutes(0.4), minutes(135)
    ('5 min', '41 min', '<1 min', '2 h 15 min')
    """
    if value < 0.5:
        return "<1 min" if value > 0 else "0 min"
    whole = int(value + 0.5)  # half a minute is rounded up, whichever minute it follows
    if whole < 120:
        return f"{whole} min"
    hours, rest = divmod(whole, 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"
