"""Practice: a hidden fault to find, and a mark that says how well it was looked for."""
