"""How crews say things: words that mean the same are put in one form, so that a search compares what is meant.

Common practice, no source: what the trade calls by several names, how a light is said to be lit or dark, and how
it is said that something did not come out.
"""

from __future__ import annotations

import re
from functools import lru_cache

STOP = frozenset(
    """
    a an and are as at be been but by come comes do did does for from had has have i in is it its
    itself just kept looked me my of on or our so that the their then there they this to us was we were
    when while with again all any some got get went after during only would will could can
    """.split()  # noqa: SIM905 - a list of so many words is read better as text
)
"""Words that tell nothing about a report. "not", "no", "up", "down", "out" and "off" are none of them."""

SAME: tuple[tuple[str, ...], ...] = (
    ("groundspoiler", "ground spoiler", "ground spoilers", "ground panel", "ground panels"),
    ("flightspoiler", "flight spoiler", "flight spoilers", "flight panel", "flight panels"),
    ("spoiler", "board", "boards", "lift dumper", "lift dumpers", "lift dump", "liftdumper", "lift spoiler",
     "lift spoilers", "spoilers", "panel", "panels", "spoiler panel", "spoiler panels"),
    ("speedbrake", "speed brake", "speed brakes", "speedbrakes", "airbrake", "airbrakes", "air brake", "air brakes"),
    ("light", "lamp", "lights", "lamps", "annunciator", "caption", "captions", "indication lamp", "warning light"),
    ("indicator", "gauge", "gage", "dial", "indication", "indications", "pointer", "pointers", "needle", "needles"),
    ("deploy", "pop up", "popped up", "pops up", "pop out", "popped out", "pop", "popped", "come up", "came up",
     "comes up", "coming up", "go up", "went up", "extend", "extended", "extends", "extending", "extension", "raise",
     "raised", "rise", "rises", "rose", "deployed", "deploys", "deploying", "deployment", "came out", "come out",
     "comes out", "coming out", "lifted", "lift", "ran out"),
    ("retract", "retracted", "retracts", "retraction", "stow", "stowed", "stows", "go down", "went down", "goes down",
     "blew back", "blow back", "crept back", "clean up", "cleaned up", "come back down"),
    ("stay", "remain", "remained", "remains", "stuck", "stayed", "stays", "keep", "keeps", "hung", "jammed", "frozen",
     "fixed"),
    ("split", "apart", "disagree", "disagreed", "disagrees", "different", "mismatch", "asymmetry", "asymmetric",
     "asymmetrical", "asymmetrically", "unequal", "not the same", "not agree", "not match", "not together"),
    ("uneven", "unevenly", "one side", "not symmetrical", "lopsided"),
    ("leadingedge", "leading edge", "leading edges", "leading edge device", "leading edge devices", "slat", "slats",
     "le"),
    ("hydraulic", "hyd", "hydraulics"),
    ("pressure", "press", "psi"),
    ("quantity", "qty", "fluid level", "contents", "fluid"),
    ("generator", "gen"),
    ("radioaltimeter", "radio altimeter", "radio altimeters", "radalt", "rad alt", "ra", "radio height"),
    ("rejected takeoff", "rto"),
    ("rejected", "abort", "aborted", "aborting", "reject", "rejecting"),
    ("takeoff", "take off"),
    ("landing", "touchdown", "landed", "rollout", "touch down", "roll out", "land", "landing roll"),
    ("taxi", "taxiing", "taxying", "taxied", "taxiway"),
    ("parked", "at the gate", "on the stand", "on stand", "at the stand", "at gate", "on blocks", "parking"),
    ("lever", "handle", "levers"),
    ("slow", "slowly", "sluggish", "sluggishly", "slower", "long time", "too long", "ages", "crawl", "crawled",
     "crawling", "creeping out"),
    ("late", "delayed", "delay", "few seconds", "lagged"),
    ("uncommanded", "by itself", "on its own", "by themselves", "on their own", "without command", "uncommandedly",
     "unselected", "themselves", "without being touched", "without us touching", "nobody touched"),
    ("cruise", "level flight", "altitude", "en route", "enroute"),
    ("flight", "airborne", "in the air", "inflight", "flying"),
    ("approach", "final", "finals", "flare"),
    ("amber", "yellow"),
    ("creep", "creeps", "creeping", "slide", "slides", "sliding", "crept", "drift", "drifts", "drifted"),
    ("gate", "detent", "notch", "slot", "in flight stop", "flight stop", "stop"),
    ("alternate", "standby", "backup", "reserve", "secondary", "emergency"),
    ("beyond", "past", "too far", "further than"),
    ("noise", "noisy", "howl", "howling", "whine", "whining", "buzzing", "sound"),
    ("thrust", "power", "throttle", "throttles"),
    ("drop", "dropped", "dropping", "lost", "losing", "loss", "decreasing", "tripped", "fell", "failed", "dead"),
    ("zero", "empty", "0"),
    ("fault", "fail", "failure", "faulty"),
)  # fmt: skip
"""What is called by several names, the first of each standing for all."""

REFUSED = re.compile(r"\b(?:fail(?:ed|s)?|refuse[ds]?|unable) to\b")
"""What says no more than "not", before a thing that was meant to happen."""

NOT = r"(?:not|never)"

LINKED = r"(?:(?:stay|is|was|went|goes|seems|came|comes|come|still) )*"

NUMBERED = r"system|number|no|gauge|pump|altimeter|generator|bus|hydraulic|engine"

FORMS: tuple[tuple[str, str], ...] = (
    (rf"\b({NUMBERED}) one\b", r"\1 1"),
    (rf"\b({NUMBERED}) two\b", r"\1 2"),
    # a light: lit, dark, or lit for longer than it should
    (rf"\b{NOT} (?:go|goes|went|going|turn|turned|switch) (?:out|off)\b", "stay lit"),
    (rf"\b{NOT} (?:come|comes|came|light|lights|lit|illuminate|illuminates)(?: up| on)?\b(?! out)", "dark"),
    (r"\bno (?=(?:\w+ ){0,3}light\b)", "dark "),
    (rf"\blight {LINKED}(?:off|out|dark|inop|inoperative|dead|missing|unlit)\b", "light dark"),
    (r"\b(?:unlit|extinguished|not lit|not illuminated)\b", "dark"),
    (rf"\blight {LINKED}(?:on|lit|illuminated|burning|glowing)\b", "light lit"),
    (r"\b(?:came|comes|come|coming) on\b", "lit"),
    (r"\b(?:illuminated|burning|glowing|illuminates)\b", "lit"),
    # what did not come out, or did not move
    (rf"\b(?:{NOT}|no|without) (?:\w+ )?deploy\b", "notdeploy"),
    (rf"\b(?:{NOT}|no|nothing) (?:\w+ )?(?:move|moved|moves|movement|happen|happened|react|reacted)\b", "notmove"),
    (r"\bstay (?:\w+ )?(?:down|in|flush|flat)\b", "notdeploy"),
    (rf"\b{NOT} (?:\w+ )?retract\b", "notretract"),
    (r"\b(?:not|never) (?:\w+ )?(?:stay|held|hold|lock|locked)\b", "notstay"),
    (r"\bstay (?:\w+ )?(?:up|out)\b", "notretract"),
)  # fmt: skip
"""Ways of saying a thing, tried in this order after the names; what each becomes."""


BARE = re.compile(r"\b(\w*d|do|does|is|was|are|were|has|have)nt\b")
"""A "not" that was typed in a hurry, without its apostrophe; no other word ends in "dnt"."""


@lru_cache(maxsize=8192)
def shared(text: str) -> str:
    """Plain words in small letters, in their shared form, without words that tell nothing.

    >>> shared("Boards didn't pop up at touchdown!")
    'spoiler notdeploy landing'
    >>> shared("no green light"), shared("the lamp would not go out")
    ('dark green light', 'light stay lit')
    """
    words = REFUSED.sub("not", plain(text))
    for pattern, form in (*_names(), *_forms()):
        words = pattern.sub(form, words)
    return " ".join(word for word in words.split() if word not in STOP)


def plain(text: str) -> str:
    """The words of a text in small letters without other signs, and "not" by itself.

    >>> plain("Won't ARM, didn't: extend")
    'will not arm did not extend'
    >>> plain("wouldnt come out, wont move, cant tell")
    'would not come out will not move can not tell'
    """
    words = text.casefold().replace("’", "'").replace("cannot", "can not")
    words = re.sub(r"\bwon'?t\b", "will not", words)
    words = re.sub(r"\bcan'?t\b", "can not", words)
    return " ".join(re.findall(r"\w+", BARE.sub(r"\1 not", re.sub(r"n't\b", " not", words))))


KNOWN = frozenset(word for group in SAME for name in group for word in name.split())
"""Every word of the names above, as it is spelt."""


@lru_cache(maxsize=1)
def _names() -> tuple[tuple[re.Pattern[str], str], ...]:
    """Each name of the trade as a pattern, longer ones first, with the form that stands for it."""
    pairs = [(name, group[0]) for group in SAME for name in group[1:]]
    pairs.sort(key=lambda pair: -len(pair[0].split()))
    return tuple((re.compile(rf"\b{re.escape(name)}\b"), form) for name, form in pairs)


@lru_cache(maxsize=1)
def _forms() -> tuple[tuple[re.Pattern[str], str], ...]:
    return tuple((re.compile(pattern), form) for pattern, form in FORMS)
