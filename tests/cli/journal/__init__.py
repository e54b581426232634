"""Tests of the commands of `faultree journal`."""
