"""Words for a node that is lost, forced, or not as its title says, from the author's own title.

A title is mostly a thing and its state ("raise relay closed"), or a thing alone ("voltage at the motor").
The state is denied by a "not" before it, where the title shows beyond doubt where it begins; a thing is
missing, or present when it should not be. A title of any other form stands whole behind "not so:".
"""

from __future__ import annotations

import re
from typing import NamedTuple

from faultree.library.model import Event, Signal


def title_of(entry: Signal | Event, value: bool, usual: bool) -> str:
    """The title of a node that has a value, beside the one it has while nothing is wrong."""
    if value and (value == usual or isinstance(entry, Event)):
        return entry.title
    if value:
        return forced(entry.title)
    return denied(entry.title) if isinstance(entry, Event) or value == usual else lost(entry.title)


def lost(title: str) -> str:
    """A title, where what it says should be so and is not.

    >>> for title in ("raise relay closed", "raise command", "both lamps lit", "left and right door shut"):
    ...     print(lost(title))
    raise relay not closed
    raise command is missing
    not both lamps lit
    not so: left and right door shut
    """
    parts = _parts(title)
    if parts.form == "thing":
        return f"{title} {'are' if parts.plural else 'is'} missing"
    return denied(title)


def forced(title: str) -> str:
    """A title, where what it says is so and should not be.

    >>> forced("raise relay closed"), forced("raise command")
    ('raise relay closed when it should not be', 'raise command is present when it should not be')
    """
    parts = _parts(title)
    if parts.form in ("thing", "stuff"):
        verb, pronoun = ("are", "they") if parts.plural else ("is", "it")
        return f"{title} {verb} present when {pronoun} should not be"
    if parts.form == "whole":
        return f"{title}, which should not be so"
    return f"{title} when {'they' if parts.plural else 'it'} should not be"


def denied(title: str) -> str:
    """A title turned around, where what it says is not so.

    >>> denied("system 2 under pressure"), denied("pressure at the pump"), denied("at least one panel up")
    ('system 2 not under pressure', 'no pressure at the pump', 'no panel up')
    """
    parts = _parts(title)
    if parts.form == "counted":
        return parts.before
    if parts.form == "stuff":
        return f"no {title}"
    if parts.form == "state" and not _COMPOUND.search(title):
        return f"{parts.before} not {parts.after}"
    if parts.form == "verb" and not _COMPOUND.search(title):
        verb, _, rest = parts.after.partition(" ")
        return f"{parts.before} {'cannot' if verb == 'can' else f'{verb} not'} {rest}"
    return f"not so: {title}"


class _Parts(NamedTuple):
    """How a title is read.

    `form`: a `state` of a thing, which begins with `after`; the same with a `verb` before it; a `counted`
    state, denied as a whole in `before`; a `thing`; `stuff`, of which there may be none; or none of these:
    `whole`.
    """

    form: str
    before: str = ""
    after: str = ""
    plural: bool = False


def _parts(title: str) -> _Parts:
    words = title.split()
    state = _state(words)
    place = state if state is not None else _place(words)
    if place is None or words[place - 1] in ("to", "be"):
        return _without_state(title, words, place is not None)
    if state is None and _is_stuff(words):
        return _Parts("stuff", plural=_plural(words))
    before, after = " ".join(words[:place]), " ".join(words[place:])
    plural = _plural(words[:place])
    counted = _counted(title)
    if counted:
        return _Parts("counted", counted, plural=plural)
    return _Parts("verb" if words[place] in _VERBS else "state", before, after, plural)


def _without_state(title: str, words: list[str], doubtful: bool) -> _Parts:
    """A thing alone; but what may be a sentence, or says several things, is left whole."""
    plural = _plural(words)
    if _COMPOUND.search(title) or (title[:1].isupper() and any(word.endswith("s") for word in words[2:])):
        return _Parts("whole", plural=plural)
    if _is_stuff(words):
        return _Parts("stuff", plural=plural)
    doubtful = doubtful or any(map(_may_be_state, words[1:]))
    return _Parts("whole" if doubtful else "thing", plural=plural)


def _state(words: list[str]) -> int | None:
    """Where the state begins: a verb, a participle or an adjective that what follows shows to be no attribute."""
    for place, word in enumerate(words):
        if place == 0 or word in _NOUNS:
            continue
        following = words[place + 1] if place + 1 < len(words) else ""
        if word in _VERBS or word in _TRANSITIVE or (_participle(word) and _ends_here(following)):
            return place
        if word in _STATES and (not following or (word, following) in _OPENERS):
            return place - 1 if place > 1 and words[place - 1] in _DEGREES else place
    return None


def _place(words: list[str]) -> int | None:
    """Where a state that is a place begins ("at OUT", "under pressure"); None where the words measure something."""
    joins = [place for place, word in enumerate(words) if place and word in _JOINS - {"of"}]
    if not joins or words[joins[0]] not in _PLACES or "than" in words:
        return None
    before = joins[0] - 1
    return before if before and words[before] in _STATES else joins[0]  # "high in the tank" begins with "high"


def _is_stuff(words: list[str]) -> bool:
    """Whether the thing is one of which there may be none, named by the word before what is joined to it."""
    head = next((place for place, word in enumerate(words) if place and word in _JOINS), 0)
    return bool(head) and words[head] not in _MEASURES and words[head - 1].lower() in _STUFF


def _participle(word: str) -> bool:
    return word in _IRREGULAR or bool(re.fullmatch(r"[a-z]{2,}(?<!e)(ed|ing)", word))


def _may_be_state(word: str) -> bool:
    return word not in _NOUNS and (_participle(word) or word in _STATES)


def _ends_here(following: str) -> bool:
    """Whether a participle before this word is no attribute of what follows."""
    return (
        not following
        or following in _AFTER
        or _may_be_state(following)
        or following in _JOINS
        or following[0].isdigit()
        or following.isupper()
    )


def _counted(title: str) -> str:
    """A title that begins with a number or a quantity, denied; empty for any other."""
    for pattern, words in _QUANTITIES:
        if not _COMPOUND.search(title) and pattern.match(title):
            return pattern.sub(words, title, count=1)
    return ""


def _plural(words: list[str]) -> bool:
    """Whether a thing is several, by the last word before what is joined to it."""
    end = next((place for place, word in enumerate(words) if place and word in _JOINS - {"of"}), len(words))
    if "of" in words[:end] and words[0].lower() not in _NUMBERS:
        end = words.index("of")
    head = words[end - 1] if end else ""
    return bool(re.search(r"(?<![sui])s$", head)) and not head.isupper()


def _words(listed: str) -> frozenset[str]:
    return frozenset(listed.split())


_COMPOUND = re.compile(
    r"[,;:]|\b(and|or|nor|but|only|while|though|although|without|no|not|none|neither|nothing|never)\b"
)
_NUMBERS = _words("two three four five six seven eight nine ten")
_QUANTITIES = (
    (re.compile(r"at least one "), "no "),
    (re.compile(r"(a|an|any|some) "), "no "),
    (re.compile(r"(both|all|every|each) "), r"not \1 "),
    (re.compile(rf"({'|'.join(_NUMBERS)}) of "), r"fewer than \1 of "),
)
_VERBS = _words("is are was were has have can will does do")
_TRANSITIVE = _words(
    "giving showing reporting delivering reaching reading receiving supplying sending commanding carrying making "
    "taking keeping losing going coming getting"
)
_IRREGULAR = _words(
    "lit seen held shut driven given shown spun sent fed kept made met lost found worn torn broken stuck burnt bent "
    "blown frozen drawn laid read run swollen wound"
)
_STATES = _words(
    "live open closed up down out in on off present sound low high full empty ready clear free true good dead flat "
    "safe hot cold dry wet loose tight normal available alive correct idle deaf able still apart weak slack "
    "warm cool dirty clean bright dark slow strong late early long short visible audible steady stable level straight "
    "intact faulty defective bad wrong silent noisy quiet active inactive effective stiff rough smooth serviceable "
    "unserviceable operative inoperative operational functional continuous complete incomplete consistent accurate "
    "sufficient insufficient excessive equal false thin thick sharp blunt hard soft brittle foul lean rich"
)
_OPENERS = frozenset(
    {("able", "to"), ("out", "of"), ("free", "of"), ("free", "to"), ("full", "of"), ("ready", "to"), ("clear", "of")}
)
_JOINS = _words(
    "at on in under above below inside outside within near beside between of for to from with by into through over "
    "against across behind before after"
)
_PLACES = _words("at on in under above below inside outside within near")
_MEASURES = _words("under above below within near over")
_AFTER = _words(
    "the a an its their it them as so that where when while until if too again still fast full only itself themselves "
    "back forward slowly away together faster slower higher lower"
)
_DEGREES = _words("too very fully partly nearly almost wide")
_NOUNS = _words(
    "wing ring spring string bearing housing landing warning heating cooling wiring winding casing fitting mounting "
    "bushing coupling lighting braking steering icing packing setting opening building ceiling sealing lining piping "
    "tubing rating timing tuning beading webbing fairing bed shed sled thread bleed"
)
_STUFF = _words(
    "pressure voltage power current flow fluid light air fuel heat oil supply signal command contact feed demand "
    "request load vacuum water gas steam thrust torque"
)
