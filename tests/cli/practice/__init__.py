"""Tests of the commands below `faultree practice`, on a small library of their own."""
