"""The table of format 1: every section and field, what it holds and what it means to an author.

Every title is required, that of the file and of each example included, for each is shown somewhere
as the only name of its thing. A caution has no title: its text is shown. What a check asks is
optional, since a title such as "measure the pressure" may say it all.
"""

from __future__ import annotations

from faultree.library.kinds import AnswerName, Flag, Id, Many, Number, Pairs, Text, Word
from faultree.library.model import BANDS
from faultree.library.operands import OPERAND, GateOf, When
from faultree.library.records import Field, Listed, One, Records, Shape
from faultree.library.rules import bands_rule, cause_rule, check_rule, event_rule, expect_rule, symptom_rule

_LINE = Text(line=True)
_MINUTES = Number()
_CHANCE = Number(0.0, 1.0, below=True)
_PROBABILITY = Number(0.0, 1.0, above=True, below=True)
_MANUAL = Field(_LINE, "Where the approved manual treats this; shown beside it.")
_NOTE = Field(Text(), "Anything else worth showing.")
_CAUTIONS = Field(Many(Id("caution")), "Cautions shown before this is done.")
_ACCESS = Field(Many(Id("access")), "Access work needed first; each is paid once in a case.")
_AFTERWARDS = Field(_LINE, "What has to be undone when the work is over: locks, pins, tags; the hand-over lists it.")
_SITUATION = Field(Id("situation"), "The situation it is looked at in; without one, all is as usual.")


def _title(doc: str) -> Field:
    return Field(_LINE, doc, required=True)


CONDITION = Shape(
    "condition",
    "A house event: a fact of the situation that is no fault, such as weight on wheels.",
    {
        "title": _title("The fact in a few words, true when it holds."),
        "usually": Field(Flag(), "Whether it holds where a situation says nothing; no by default."),
    },
)
SITUATION = Shape(
    "situation",
    "A named setting of conditions.",
    {
        "title": _title("The situation in a few words."),
        "extends": Field(Id("situation"), "A situation whose settings and cautions it starts from."),
        "sets": Field(Pairs("condition", Flag()), "The conditions it sets, each to yes or no."),
        "cautions": _CAUTIONS,
    },
)
ITEM = Shape(
    "item",
    "What is replaced or repaired.",
    {
        "title": _title("What it is called."),
        "place": Field(_LINE, "Where it is found."),
        "manual": _MANUAL,
        "minutes": Field(_MINUTES, "Minutes to replace or repair it; 30 by default."),
        "access": _ACCESS,
        "cautions": _CAUTIONS,
    },
)
CAUSE = Shape(
    "cause",
    "A basic event: one way in which something is wrong.",
    {
        "title": _title("What is wrong."),
        "item": Field(Id("item"), "The item that is wrong; causes of one item exclude each other."),
        "probability": Field(_PROBABILITY, "The probability that it is present when the symptom is reported."),
        "rate": Field(Number(0.0, 1_000.0, above=True), "The rate at which it arises, per flight hour."),
        "hours": Field(
            Number(0.0, 1e9, above=True), "Flight hours since it was last known to be good; 1 by default, with a rate."
        ),
        "likelihood": Field(
            Word(tuple(BANDS), "write one of these words, or a number as 'probability'"),
            "An ordinal band, for authors without figures.",
        ),
        "minutes": Field(_MINUTES, "Minutes to put it right, for a cause without an item; 30 by default."),
        "manual": _MANUAL,
        "note": _NOTE,
    },
    cause_rule,
)
SIGNAL = Shape(
    "signal",
    "Success logic: what must be true; (follows and not any of lost_if) or any of forced_if.",
    {
        "title": _title("What is true when it is there."),
        "follows": Field(OPERAND, "What it follows; always true by default."),
        "lost_if": Field(Many(OPERAND), "What takes it away."),
        "forced_if": Field(Many(OPERAND), "What makes it true whatever else holds."),
        "undeveloped": Field(Flag(), "Whether its own causes are left out on purpose."),
    },
)
EVENT = Shape(
    "event",
    "Failure logic: a gate over other nodes.",
    {
        "title": _title("What has happened when it is true."),
        "all": Field(GateOf("all"), "True when every operand is."),
        "any": Field(GateOf("any"), "True when one or more operands are."),
        "not": Field(GateOf("not"), "True when its operand is not."),
        "none": Field(GateOf("none"), "True when no operand is."),
        "at_least": Field(GateOf("at_least"), "True when `count` or more of the operands `of` are."),
        "one_of": Field(GateOf("one_of"), "True when exactly one operand is."),
    },
    event_rule,
)
ACCESS = Shape(
    "access",
    "Work that several checks share, such as opening a panel.",
    {
        "title": _title("The work in a few words."),
        "minutes": Field(_MINUTES, "Minutes it takes; 5 by default."),
        "cautions": _CAUTIONS,
        "afterwards": _AFTERWARDS,
    },
)
CAUTION = Shape(
    "caution",
    "A text shown before a step that needs it.",
    {
        "text": Field(Text(), "The text, shown as it stands.", required=True),
        "level": Field(Word(("warning", "caution", "note")), "How grave it is; caution by default."),
        "afterwards": _AFTERWARDS,
    },
)
ANSWER = Shape(
    "answer",
    "One answer of a check.",
    {
        "text": Field(_LINE, "The answer in words.", required=True),
        "when": Field(When(), "When it is the right one; the last may say otherwise.", required=True),
    },
)
CHECK = Shape(
    "check",
    "What can be looked at or asked.",
    {
        "title": _title("What to do."),
        "ask": Field(_LINE, "The question to answer."),
        "situation": _SITUATION,
        "reads": Field(Id("node"), "The node whose truth the answer yes tells."),
        "yes": Field(_LINE, "The wording of the answer yes."),
        "no": Field(_LINE, "The wording of the answer no."),
        "answers": Field(Records(ANSWER, full=False), "Several answers, of which exactly one holds in every state."),
        "false_yes": Field(_CHANCE, "P(answer yes / node false); 0 by default."),
        "false_no": Field(_CHANCE, "P(answer no / node true); 0 by default."),
        "error": Field(_CHANCE, "P(a wrong answer), spread evenly over the other answers; 0 by default."),
        "minutes": Field(_MINUTES, "Minutes for the check itself; 5 by default."),
        "access": _ACCESS,
        "by": Field(Word(("crew", "line", "shop")), "Who can answer; line by default."),
        "cautions": _CAUTIONS,
        "tools": Field(Many(_LINE), "What is needed to do it."),
        "manual": _MANUAL,
        "note": _NOTE,
    },
    check_rule,
)
SYMPTOM = Shape(
    "symptom",
    "A top event: what was reported.",
    {
        "title": _title("The report in a few words."),
        "words": Field(Many(_LINE), "Phrases that crews use for it."),
        "situation": _SITUATION,
        "sees": Field(Pairs("node", Flag()), "What was seen of each node: yes or no."),
        "event": Field(Id("node"), "Short for `sees` with this node at yes."),
        "false_report": Field(_CHANCE, "P(reported / not there); 0 by default."),
        "retest": Field(_MINUTES, "Minutes to repeat the operational check after a repair; 10 by default."),
        "manual": _MANUAL,
        "note": _NOTE,
    },
    symptom_rule,
)
EXPECT = Shape(
    "expectation",
    "What the ranking must then say.",
    {
        "first": Field(Id("cause"), "The cause that ranks first."),
        "at_least": Field(Number(0.0, 1.0), "The least probability of the first cause."),
        "cleared": Field(Many(Id("cause")), "Causes that are excluded."),
    },
    expect_rule,
    own=False,
)
EXAMPLE = Shape(
    "example",
    "A test of the file: symptoms and answers, and what the ranking must then say.",
    {
        "title": _title("What the example shows."),
        "symptom": Field(Many(Id("symptom"), least=1), "The symptom reported, or a list of them.", required=True),
        "answers": Field(Pairs("check", AnswerName()), "The answer given to each check."),
        "expect": Field(One(EXPECT), "What the ranking must then say.", required=True),
    },
)
BAND_WEIGHTS = Shape(
    "likelihood scale",
    "The probability of each ordinal band, for the whole library.",
    {
        band: Field(_PROBABILITY, f"The probability of '{band}'; {weight:g} by default.")
        for band, weight in BANDS.items()
    },
    bands_rule,
    own=False,
)
FILE = Shape(
    "tree file",
    "One system of a library.",
    {
        "faultree": Field(
            Word(("1",), "this version of faultree reads format 1"), "The version of the format: 1.", required=True
        ),
        "title": _title("What the system is called."),
        "summary": Field(Text(), "What the system is and does."),
        "chapter": Field(_LINE, "The ATA 100 chapter and section, such as 27-60."),
        "authority": Field(Text(), "The approved data that has the last word."),
        "likelihoods": Field(One(BAND_WEIGHTS), "The probability of each ordinal band, for the whole library."),
        "conditions": Field(Records(CONDITION), "Facts of the situation that are no fault."),
        "situations": Field(Records(SITUATION), "Named settings of conditions."),
        "items": Field(Records(ITEM), "What is replaced or repaired."),
        "causes": Field(Records(CAUSE), "The ways in which something is wrong."),
        "signals": Field(Records(SIGNAL), "Success logic: what must be true."),
        "events": Field(Records(EVENT), "Failure logic: gates."),
        "access": Field(Records(ACCESS), "Work that several checks share."),
        "cautions": Field(Records(CAUTION), "Texts shown before a step that needs them."),
        "checks": Field(Records(CHECK), "What can be looked at or asked."),
        "symptoms": Field(Records(SYMPTOM), "What was reported."),
        "examples": Field(Listed(EXAMPLE), "The file's own tests."),
    },
)
"""The shape of a whole file."""

NODES = ("conditions", "causes", "signals", "events")
"""The sections whose ids share one namespace within a file, and which an operand may name."""

NOUNS = {
    "conditions": "condition",
    "situations": "situation",
    "items": "item",
    "causes": "cause",
    "signals": "signal",
    "events": "event",
    "access": "access",
    "cautions": "caution",
    "checks": "check",
    "symptoms": "symptom",
}
"""What one entry of a section is called."""

SECTIONS = {
    "condition": ("conditions",),
    "situation": ("situations",),
    "item": ("items",),
    "cause": ("causes",),
    "access": ("access",),
    "caution": ("cautions",),
    "check": ("checks",),
    "symptom": ("symptoms",),
    "node": NODES,
}
"""The sections in which each target of a reference is defined."""
