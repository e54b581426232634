"""Tests of the rules of meaning."""
