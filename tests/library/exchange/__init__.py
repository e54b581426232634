"""Tests of what is read from and written in open standards."""
