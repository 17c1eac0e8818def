"""program."""
