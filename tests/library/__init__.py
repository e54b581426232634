"""Tests of the reader of tree files."""
