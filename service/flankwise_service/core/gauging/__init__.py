"""gauging."""
