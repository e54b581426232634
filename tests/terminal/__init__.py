"""The screen of a walk: what is drawn, what typed lines mean, and what is kept in files."""
