"""What to do next: the worth of a check, the advice, the case as a value."""
