"""Tests of practice: drawn faults, the aircraft's answers, marks and feedback."""
