"""The source room."""
