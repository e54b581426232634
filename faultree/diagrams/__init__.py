"""Drawings: trees, logic, charts and matrices as pictures with positions, and their text in several formats."""
