"""The tables of the journal as they are now; `migrate` leads every older journal here.

Times are ISO 8601 texts in UTC and days ISO dates, so that both databases, an export and a person read
the same. Plain data (JSON) is kept as text for the same reason.
"""

from __future__ import annotations

from sqlalchemy import Column, Float, ForeignKey, Index, Integer, MetaData, Table, Text, UniqueConstraint

metadata = MetaData()


def _case_id() -> Column[int]:
    return Column("case_id", Integer, ForeignKey("cases.id", ondelete="CASCADE"), nullable=False)


cases = Table(
    "cases",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("key", Text, nullable=False, unique=True),  # the same on every machine that holds a copy
    Column("opened", Text, nullable=False),
    Column("aircraft", Text, nullable=False),
    Column("flight", Text, nullable=False),
    Column("day", Text, nullable=False),
    Column("phase", Text, nullable=False),
    Column("library", Text, nullable=False),  # digest of the tree files
    Column("origin", Text, nullable=False),  # debrief, demonstration or import
    Column("state", Text, nullable=False),
    Column("due", Text),  # last day of a deferral
    Index("cases_by_aircraft", "aircraft", "day"),
)

entries = Table(
    "entries",
    metadata,
    Column("id", Integer, primary_key=True),
    _case_id(),
    Column("number", Integer, nullable=False),
    Column("at", Text, nullable=False),
    Column("who", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("data", Text, nullable=False),
    UniqueConstraint("case_id", "number"),
)

squawks = Table(
    "squawks",
    metadata,
    Column("id", Integer, primary_key=True),
    _case_id(),
    Column("number", Integer, nullable=False),
    Column("words", Text, nullable=False),
    Column("symptom", Text),  # full id; NULL: none of the library's symptoms fits
    UniqueConstraint("case_id", "number"),
    Index("squawks_by_symptom", "symptom"),
)

findings = Table(
    "findings",
    metadata,
    Column("id", Integer, primary_key=True),
    _case_id(),
    Column("number", Integer, nullable=False),
    Column("at", Text, nullable=False),
    Column("who", Text, nullable=False),
    Column("unit", Text, nullable=False),  # full id of the item, or of a cause without one
    Column("cause", Text),  # full id, where the cause itself was established
    Column("result", Text, nullable=False),  # confirmed, replaced or not found
    Column("how", Text, nullable=False),  # by what it was established, in words
    UniqueConstraint("case_id", "number"),
    Index("findings_by_unit", "unit"),
)

runs = Table(
    "runs",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("key", Text, nullable=False, unique=True),
    Column("learner", Text, nullable=False),
    Column("code", Text, nullable=False),
    Column("library", Text, nullable=False),
    Column("symptom", Text, nullable=False),
    Column("mode", Text, nullable=False),
    Column("started", Text, nullable=False),
    Column("finished", Text),
    Column("mark", Float),
    Column("summary", Text, nullable=False),  # plain data: minutes, reference, mistakes
    Index("runs_by_learner", "learner", "started"),
)

run_events = Table(
    "run_events",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("run_id", Integer, ForeignKey("runs.id", ondelete="CASCADE"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("at", Text, nullable=False),
    Column("data", Text, nullable=False),
    UniqueConstraint("run_id", "number"),
)

migrations = Table(
    "migrations",
    metadata,
    Column("name", Text, primary_key=True),
    Column("at", Text, nullable=False),
)
