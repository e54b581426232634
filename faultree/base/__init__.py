"""The ground floor: errors, problems with a place, the clock, and small helpers for words."""
