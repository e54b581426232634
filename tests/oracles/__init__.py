"""Slow, obviously right references, and the engine held against them."""
