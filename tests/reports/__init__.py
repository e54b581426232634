"""Tests of reports: the debrief sheet as a value, and in every format."""
