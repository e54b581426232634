"""The troubleshooting chart: a whole course of action, compiled and costed before the first check."""
