"""Makes the first file of a new author: a small system that can be run, with comments that teach the format."""

from __future__ import annotations

import re
import unicodedata

from faultree.base.words import capital
from faultree.library.arrange import SECTIONS
from faultree.library.shapes import FILE
from faultree.library.values import is_id, shown

SCHEMA = "faultree.schema.json"
"""Where the starter tells an editor to look for the schema of the format."""


def id_from(name: str) -> str:
    """The id of a system from any name; ValueError with the reason where none can be made of it.

    >>> id_from("Left Door (upper)"), id_from("Klappe für Öl"), id_from("LeftDoor")
    ('left-door-upper', 'klappe-fur-ol', 'LeftDoor')
    """
    if is_id(name):
        return name
    bare = "".join(sign for sign in unicodedata.normalize("NFKD", name.casefold()) if not unicodedata.combining(sign))
    found = re.sub("[^a-z0-9_]+", "-", bare).strip("-_")
    if is_id(found):
        return found
    if found:
        raise ValueError(
            f"an id begins with a letter, and '{shown(name)}' does not; put a word before it: system-{found}"
        )
    raise ValueError(
        f"'{shown(name)}' holds no letter from a to z of which an id could be made; name it in such letters"
    )


def title_from(name: str) -> str:
    """A title from a name, as a person would write it.

    >>> title_from("left-door"), title_from("LeftDoor")
    ('Left door', 'LeftDoor')
    """
    return capital(re.sub(r"[-_\s]+", " ", name).strip())


def starter(title: str) -> str:
    """The text of a tree file with a title of its own, and a kettle to be replaced piece by piece."""
    return _TEXT.replace("TITLE", _quoted(title))


def empty(title: str) -> str:
    """The text of a tree file without content: its head, and the sections to be filled, as comments."""
    sections = "".join(f"# {name}:  # {FILE.fields[name].doc}\n" for name in SECTIONS)
    return f"{_EDITOR}\nfaultree: 1\ntitle: {_quoted(title)}\n\n{_FILL}{sections}"


def _quoted(text: str) -> str:
    """A text as a value on one line, in quotes where it could be taken for something else."""
    plain = re.fullmatch(r"[^\W\d_][\w ()/.-]*", text) is not None
    return text if plain else "'" + text.replace("'", "''") + "'"


_EDITOR = f"""\
# yaml-language-server: $schema={SCHEMA}
# For completion and help texts in your editor: faultree schema {SCHEMA}, in this folder.
"""

_FILL = """\
# Say what the system is under `summary`, and which approved data has the last word under `authority`.
# Then take away the first sign of the sections that you need.
"""

_TEXT = f"""\
{_EDITOR}#
# A kettle shows here how a system is written. Replace it piece by piece by your own, and look at every
# step with: faultree lint --watch FILE. The approved manual of a system and a licensed engineer decide
# what is done to it; name the manual under authority, and at each item and check.

faultree: 1
title: TITLE
summary: A kettle stands on a power base. It heats when it is switched on and holds water.
authority: The kettle's own booklet, invented for this example

# Facts of the situation that are no fault. `usually` holds where a situation says nothing.
conditions:
  filled: {{title: water in the kettle, usually: yes}}
  switched-on: {{title: the switch in its ON position}}

# What the facts are when something is seen or checked.
situations:
  in-use:
    title: filled and switched on
    sets: {{switched-on: yes}}
    cautions: [hot]
  at-rest: {{title: filled and switched off}}
  on-the-bench:
    title: unplugged on the bench with the switch in its ON position
    sets: {{switched-on: yes, filled: no}}
    cautions: [mains]

# What is replaced or repaired, and how many minutes that takes.
items:
  base: {{title: power base, place: under the kettle, manual: booklet page 3, minutes: 2}}
  switch: {{title: switch, place: in the foot, manual: booklet page 7, minutes: 20, access: [foot], cautions: [mains]}}
  heater: {{title: heater, place: in the foot, manual: booklet page 8, minutes: 30, access: [foot], cautions: [mains]}}

# Each way in which something is wrong. Say how likely it is in one of three ways: as a probability, as a
# rate over hours, or in a word (frequent, probable, occasional, remote, improbable). Causes of one item
# exclude each other.
causes:
  socket-dead:
    title: no voltage at the socket
    likelihood: occasional
    minutes: 10
    manual: booklet page 2
  base-burnt: {{title: contacts of the power base burnt, item: base, probability: 0.01}}
  switch-open: {{title: switch no longer closing, item: switch, rate: 1e-5, hours: 500}}
  switch-welded: {{title: switch no longer opening, item: switch, likelihood: remote}}
  wire-loose: {{title: loose wire bridging the switch, probability: 0.0005, minutes: 15, manual: booklet page 7}}
  heater-broken: {{title: heater broken, item: heater, likelihood: probable}}

# What must be true for the system to work. A signal is there when what it follows is true and nothing of
# lost_if is; or whenever something of forced_if is.
signals:
  powered:
    title: power at the kettle
    lost_if: [socket-dead, base-burnt]
  closed:
    title: switch closed
    follows: switched-on
    lost_if: [switch-open]
    forced_if: [switch-welded, wire-loose]
  heating:
    title: water being heated
    follows: {{all: [powered, closed, filled]}}
    lost_if: [heater-broken]

# Work that comes before several checks; it is paid for once.
access:
  foot: {{title: unscrew the foot, minutes: 10, cautions: [mains]}}

# What must be read before a step.
cautions:
  hot: {{text: 'The water may boil: keep hands and face away from the steam.', level: warning}}
  mains: {{text: Pull the plug before anything is opened., level: warning}}

# What can be looked at or asked. `reads` makes a question with the answers yes and no; `answers` has the
# answers that you write, of which exactly one must be right in every state.
checks:
  base-lamp:
    title: look at the lamp of the power base
    ask: Is it lit?
    situation: in-use
    reads: powered
    false_no: 0.02
    minutes: 1
    by: crew
    manual: booklet page 3
  other-device:
    title: plug another device into the socket
    ask: Does it work?
    reads: socket-dead
    yes: it stays dead
    no: it works
    minutes: 3
    cautions: [mains]
    manual: booklet page 2
  resistance:
    title: measure the resistance of the heater and of the switch
    situation: on-the-bench
    answers:
      heater: {{text: no reading through the heater, when: heater-broken}}
      switch: {{text: no reading through the switch, when: {{all: [{{not: closed}}, {{not: heater-broken}}]}}}}
      sound: {{text: a reading through both, when: otherwise}}
    minutes: 5
    access: [foot]
    tools: [multimeter]
    manual: booklet page 8
  look-into-foot:
    title: look into the foot
    ask: Does a loose wire bridge the switch?
    reads: wire-loose
    minutes: 2
    access: [foot]
    manual: booklet page 7

# What is reported. `sees` says what was seen, and `words` how people put it.
symptoms:
  stays-cold:
    title: the water stays cold
    words: [kettle dead, does not boil]
    situation: in-use
    sees: {{heating: no}}
    manual: booklet page 5
  heats-by-itself:
    title: it heats while it is switched off
    situation: at-rest
    event: heating
    manual: booklet page 5

# The file's own tests: faultree lint runs them.
examples:
  - title: a broken heater
    symptom: stays-cold
    answers: {{base-lamp: yes, resistance: heater}}
    expect: {{first: heater-broken, at_least: 0.9}}
  - title: a dead socket
    symptom: stays-cold
    answers: {{base-lamp: no, other-device: yes}}
    expect: {{first: socket-dead, at_least: 0.9}}
  - title: a worn switch
    symptom: stays-cold
    answers: {{resistance: switch}}
    expect: {{first: switch-open, at_least: 0.9, cleared: [heater-broken]}}
  - title: a welded switch
    symptom: heats-by-itself
    answers: {{look-into-foot: no}}
    expect: {{first: switch-welded, at_least: 0.9}}
"""
