"""Studies and timings, run by hand or by name; pytest does not collect them."""
