"""The course of one case as a pure state machine: events in, prompts out, and a transcript that replays."""
