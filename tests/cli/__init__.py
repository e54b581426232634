"""The command line: what each command prints, and with which exit code it leaves."""
