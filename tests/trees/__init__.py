"""The demonstration library: what it promises, and the practice that its logic follows."""
