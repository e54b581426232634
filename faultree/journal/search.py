"""Which symptom do a crew's few words mean: full-text search over titles and phrases, by SQLite's own engine.

Every title and phrase is one text of an FTS5 table in memory, its words cut to their stems (Porter 1980) and
ranked by BM25 (Robertson & Zaragoza 2009); a second table holds for every symptom all that the library says of
it, with the situation it was seen in and the system it belongs to. Before that, words are put in the form that
crews and tree share (`crew_words`), and a word that nothing in the library holds is taken for the one that is
spelt nearest. A symptom counts as much as its best text, and some for its other texts, its whole, and for
how many groups of three signs its best text shares with the words.
"""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import closing
from difflib import get_close_matches
from functools import lru_cache
from typing import NamedTuple

from faultree.journal.crew_words import KNOWN, plain, shared
from faultree.library.model import Library, Symptom

BESIDE = 0.05
"""What each further text of a symptom adds, of its own score."""

WHOLE = 1.0
"""What the score of all that is said of a symptom adds."""

SPELT = 6.0
"""What a text adds whose groups of three signs are all those of the words."""

COLUMNS = (1.5, 1.0, 0.4)
"""How much title, phrases and surroundings count within the whole of a symptom."""

NEAR = 0.78
"""How alike two spellings must be (difflib's ratio) to be taken for one word."""

SHORT = 4
"""Words of fewer signs are left as they are spelt."""


class Match(NamedTuple):
    """A symptom (full id), how well it fits (higher is better), and the text of it that fits best."""

    symptom: str
    score: float
    text: str


def search(library: Library, words: str, limit: int = 5) -> tuple[Match, ...]:
    """The symptoms that the words may mean, best first; empty where no word is of use.

    Equal symptoms come in the order of the files.
    """
    texts = list(_texts(library))
    spelt = _spelt(words[:LONGEST], _vocabulary(texts))
    wanted = list(dict.fromkeys(shared(spelt).split()))
    if not wanted:
        return ()
    query = " OR ".join(f'"{word}"' for word in wanted)
    with closing(sqlite3.connect(":memory:")) as database:
        found = _by_text(database, texts, query)
        whole = _by_whole(database, library, query)
    groups = _threes(" ".join(wanted))
    return _ranked(library, texts, found, whole, groups)[:limit]


LONGEST = 1000
"""Signs of the words that are looked at."""


def _by_text(database: sqlite3.Connection, texts: Sequence[tuple[str, str]], query: str) -> dict[int, float]:
    """The score of each text that shares a word, by its place."""
    database.execute("CREATE VIRTUAL TABLE texts USING fts5 (words, tokenize='porter unicode61')")
    database.executemany("INSERT INTO texts (words) VALUES (?)", [(shared(text),) for _, text in texts])
    found = database.execute("SELECT rowid, -rank FROM texts WHERE texts MATCH ?", (query,))
    return {int(row) - 1: float(score) for row, score in found}


def _by_whole(database: sqlite3.Connection, library: Library, query: str) -> dict[str, float]:
    """The score of all that is said of each symptom."""
    database.execute("CREATE VIRTUAL TABLE wholes USING fts5 (title, words, around, tokenize='porter unicode61')")
    rows = [_whole(library, one) for one in library.symptoms.values()]
    database.executemany("INSERT INTO wholes (title, words, around) VALUES (?, ?, ?)", rows)
    weights = ", ".join(map(str, COLUMNS))
    found = database.execute(f"SELECT rowid, -bm25(wholes, {weights}) FROM wholes WHERE wholes MATCH ?", (query,))
    names = list(library.symptoms)
    return {names[int(row) - 1]: float(score) for row, score in found}


def _whole(library: Library, symptom: Symptom) -> tuple[str, str, str]:
    around = [library.systems[symptom.system].title]
    if symptom.situation:
        around.append(library.situations[symptom.situation].title)
    return shared(symptom.title), " ".join(map(shared, symptom.words)), " ".join(map(shared, around))


def _ranked(
    library: Library,
    texts: Sequence[tuple[str, str]],
    found: Mapping[int, float],
    whole: Mapping[str, float],
    groups: frozenset[str],
) -> tuple[Match, ...]:
    own: dict[str, list[tuple[float, str]]] = defaultdict(list)
    for place, (symptom, text) in enumerate(texts):
        score = found.get(place, 0.0)
        if score:
            own[symptom].append((score + SPELT * _alike(groups, _threes(shared(text))), text))
    matches = []
    for symptom, scored in own.items():
        scored.sort(key=lambda pair: -pair[0])
        score = scored[0][0] + BESIDE * sum(one for one, _ in scored[1:]) + WHOLE * whole.get(symptom, 0.0)
        matches.append(Match(symptom, score, scored[0][1]))
    order = {name: place for place, name in enumerate(library.symptoms)}
    return tuple(sorted(matches, key=lambda one: (-round(one.score, 9), order[one.symptom])))


def _texts(library: Library) -> Iterator[tuple[str, str]]:
    """Every text that speaks of a symptom: its title, and each phrase that the author listed."""
    for symptom in library.symptoms.values():
        for text in (symptom.title, *symptom.words):
            yield symptom.id, text


def _vocabulary(texts: Iterable[tuple[str, str]]) -> frozenset[str]:
    """Every word that the library or the trade uses, as it is spelt there."""
    return KNOWN | {word for _, text in texts for word in plain(text).split()}


def _spelt(words: str, vocabulary: frozenset[str]) -> str:
    """The words as the library spells them: one that nobody uses becomes the one that is nearest to it, if any is."""
    return " ".join(
        word if word in vocabulary or len(word) < SHORT else _nearest(word, vocabulary) for word in plain(words).split()
    )


def _nearest(word: str, vocabulary: frozenset[str]) -> str:
    return next(iter(get_close_matches(word, sorted(vocabulary), n=1, cutoff=NEAR)), word)


@lru_cache(maxsize=8192)
def _threes(text: str) -> frozenset[str]:
    """Every group of three signs within the words, their beginnings and ends marked."""
    return frozenset(f" {word} "[place : place + 3] for word in text.split() for place in range(len(word)))


def _alike(one: frozenset[str], other: frozenset[str]) -> float:
    """How much two sets have in common (Dice 1945), from 0 to 1."""
    return 2 * len(one & other) / (len(one) + len(other)) if one or other else 0.0
