"""`faultree debrief`: from a crew's few words to a record, and from the record on to the line."""

from __future__ import annotations

from faultree.cli.debrief.group import command as command
