"""Tests of what to do next: the worth of checks, advice and cases."""
