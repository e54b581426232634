"""Tests of the commands of `faultree debrief`."""
