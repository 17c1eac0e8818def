"""stock."""
