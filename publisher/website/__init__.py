"""The website room."""
