"""What is possible: the Boolean graph of a library and its simulation."""
