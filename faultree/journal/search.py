"""Which symptom do a crew's few words mean: full-text search over titles and phrases, by SQLite's own engine.

Every title and phrase is one text of an FTS5 table in memory, its words cut to their stems (Porter 1980) and
ranked by BM25 (Robertson & Zaragoza 2009). Before that, words are put in the form that the trade shares (boards
are spoilers, a lamp is a light), and a word that nothing in the library holds is taken for the one that is spelt
nearest. A symptom counts as much as its best text, and a little more for each other one that fits as well.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from contextlib import closing
from difflib import get_close_matches
from functools import lru_cache
from typing import NamedTuple

from faultree.library.model import Library

BESIDE = 0.15
"""What each further text of a symptom adds, of its own score."""

NEAR = 0.74
"""How alike two spellings must be (difflib's ratio) to be taken for one word."""

_STOP = frozenset(
    """
    a an and are as at be been but by come came comes do did does for from had has have i in is it its
    itself just kept looked me my of on one or our so that the their then there they this to was we were
    when while with again all any some got get went
    """.split()  # noqa: SIM905 - a list of so many words is read better as text
)
"""Words that tell nothing about a report. "not", "no", "up", "down", "out" and "off" are none of them."""

_SAME: tuple[tuple[str, ...], ...] = (
    ("spoiler", "board", "boards", "lift dumper", "lift dumpers", "liftdumper", "lift spoiler", "lift spoilers"),
    ("speedbrake", "speed brake", "speed brakes", "speedbrakes", "airbrake", "airbrakes", "air brake", "air brakes"),
    ("light", "lamp", "lights", "lamps", "annunciator", "caption", "indication lamp"),
    ("deploy", "pop up", "popped up", "pop", "popped", "come up", "came up", "go up", "went up", "extend",
     "extended", "raise", "raised", "rise", "rose", "deployed", "deploying"),
    ("notdeploy", "stay down", "stayed down", "stays down", "remain down", "remained down", "not deploy",
     "no deployment", "not extend", "not rise", "not raise", "fail to deploy", "failed to deploy",
     "failed to extend", "never deploy"),
    ("stay", "remain", "remained", "remains", "stuck", "stayed", "stays", "keep", "keeps", "hung"),
    ("split", "apart", "disagree", "disagreed", "different", "mismatch", "asymmetry", "asymmetric", "asymmetrical"),
    ("leadingedge", "leading edge", "leading-edge", "slat", "slats", "led", "leds", "krueger"),
    ("hydraulic", "hyd", "hydraulics"),
    ("pressure", "press", "psi"),
    ("quantity", "qty", "fluid level", "level", "contents"),
    ("generator", "gen"),
    ("radioaltimeter", "radio altimeter", "radalt", "rad alt", "ra", "radio height"),
    ("rejected", "rto", "abort", "aborted", "reject"),
    ("takeoff", "take off", "take-off"),
    ("landing", "touchdown", "landed", "rollout", "touch down", "roll out"),
    ("taxi", "taxiing", "taxying", "taxied"),
    ("lever", "handle"),
    ("slow", "slowly", "sluggish", "sluggishly"),
    ("uncommanded", "by itself", "on its own", "by themselves", "without command", "uncommandedly", "unselected"),
    ("cruise", "climb", "level flight"),
    ("approach", "final", "finals"),
    ("amber", "yellow"),
    ("dark", "not illuminate", "not light", "extinguished", "unlit", "no light"),
    ("lit", "illuminated", "on steady", "burning", "glowing"),
)  # fmt: skip
"""What the trade calls by several names, the first of each standing for all (common practice, no source)."""


class Match(NamedTuple):
    """A symptom (full id), how well it fits (higher is better), and the text of it that fits best."""

    symptom: str
    score: float
    text: str


def search(library: Library, words: str, limit: int = 5) -> tuple[Match, ...]:
    """The symptoms that the words may mean, best first; empty where no word is of use.

    Equal symptoms come in the order of the files.
    """
    with closing(sqlite3.connect(":memory:")) as database:
        texts = list(_texts(library))
        database.execute("CREATE VIRTUAL TABLE texts USING fts5 (words, tokenize='porter unicode61')")
        database.executemany("INSERT INTO texts (words) VALUES (?)", [(_shared(text),) for _, text in texts])
        vocabulary = _vocabulary(texts)
        wanted = list(dict.fromkeys(_spelt(word, vocabulary) for word in _shared(words).split()))
        if not wanted:
            return ()
        query = " OR ".join(f'"{word}"' for word in wanted)
        found = database.execute("SELECT rowid, -rank FROM texts WHERE texts MATCH ? ORDER BY rank", (query,))
        return _ranked([(texts[row - 1], float(score)) for row, score in found], library)[:limit]


def _ranked(found: Iterable[tuple[tuple[str, str], float]], library: Library) -> tuple[Match, ...]:
    best: dict[str, Match] = {}
    for (symptom, text), score in found:  # best first
        if symptom not in best:
            best[symptom] = Match(symptom, score, text)
        else:
            first = best[symptom]
            best[symptom] = first._replace(score=first.score + BESIDE * score)
    order = {name: place for place, name in enumerate(library.symptoms)}
    return tuple(sorted(best.values(), key=lambda one: (-round(one.score, 9), order[one.symptom])))


def _texts(library: Library) -> Iterator[tuple[str, str]]:
    """Every text that speaks of a symptom: its title, and each phrase that the author listed."""
    for symptom in library.symptoms.values():
        for text in (symptom.title, *symptom.words):
            yield symptom.id, text


def _vocabulary(texts: Iterable[tuple[str, str]]) -> Mapping[str, str]:
    return {word: word for _, text in texts for word in _shared(text).split()}


def _spelt(word: str, vocabulary: Mapping[str, str]) -> str:
    """The word as the library spells it, where it is near enough to one of its words."""
    if word in vocabulary or len(word) < 4:
        return word
    return next(iter(get_close_matches(word, vocabulary, n=1, cutoff=NEAR)), word)


@lru_cache(maxsize=4096)
def _shared(text: str) -> str:
    """Plain words in small letters, those of the trade in their shared form, without words that tell nothing.

    >>> _shared("Boards didn't pop up at touchdown!")
    'spoiler notdeploy landing'
    """
    plain = re.sub(r"n['’]t\b", " not", text.casefold())
    plain = " ".join(re.findall(r"\w+", plain.replace("cannot", "can not").replace("won not", "not")))
    for pattern, shared in _patterns():
        plain = pattern.sub(shared, plain)
    plain = re.sub(r"\b(?:not|no|never) (?:\w+ )?deploy\b", "notdeploy", plain)
    return " ".join(word for word in plain.split() if word not in _STOP)


@lru_cache(maxsize=1)
def _patterns() -> tuple[tuple[re.Pattern[str], str], ...]:
    """Each name of the trade as a pattern, longer ones first, with the form that stands for it."""
    pairs = [(name.replace("-", " "), group[0]) for group in _SAME for name in group[1:]]
    pairs.sort(key=lambda pair: -len(pair[0].split()))
    return tuple((re.compile(rf"\b{re.escape(name)}\b"), shared) for name, shared in pairs)
