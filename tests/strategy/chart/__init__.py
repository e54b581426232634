"""Tests of the troubleshooting chart."""
