"""form."""
