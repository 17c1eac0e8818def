"""threads."""
