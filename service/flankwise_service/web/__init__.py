"""Translates HTTP to core and back."""
