"""The command line: one function per command, and the one place where an error becomes words and an exit code."""
