"""cutting."""
