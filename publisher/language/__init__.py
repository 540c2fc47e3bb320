"""The language room."""
