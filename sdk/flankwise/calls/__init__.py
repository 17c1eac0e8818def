"""The calls of the client, one module per subject."""
