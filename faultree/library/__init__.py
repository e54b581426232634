"""The tree files: text to marked nodes to a checked, frozen model."""
