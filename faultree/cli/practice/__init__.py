"""`faultree practice`: a hidden fault to find, what an instructor sets and marks, and a learner's progress."""

from __future__ import annotations

from faultree.cli.practice.group import command as command
