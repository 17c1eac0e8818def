"""Published tables, one module per standard and edition."""
