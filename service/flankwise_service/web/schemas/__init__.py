"""Schemas: one module per subject, what each operation asks and replies."""
