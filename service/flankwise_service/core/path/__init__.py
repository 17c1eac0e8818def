"""path."""
