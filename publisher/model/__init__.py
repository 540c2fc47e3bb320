"""The model room."""
