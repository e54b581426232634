"""How a screen looks: prompts drawn, answers read as events."""
