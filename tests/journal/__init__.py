"""Tests of the journal, the same ones on SQLite and on a PostgreSQL server of their own."""
