"""The course of one case: a pure state machine, events in and prompts out."""
