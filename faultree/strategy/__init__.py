"""What to do next: the worth of a check, the choice between steps, and the case that holds them."""
