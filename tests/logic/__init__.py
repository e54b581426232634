"""Tests of what is possible: the Boolean graph and its simulation."""
