"""`faultree journal`: the record of squawks and practice, where it lies, what it shows, and how to take it along."""

from __future__ import annotations

from faultree.cli.journal.group import command as command
