"""Tests of `faultree.base`: errors, problems with a place, words."""
