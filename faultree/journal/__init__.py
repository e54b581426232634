"""The journal: squawks, cases and practice runs in a database, kept for good."""
