"""The units room."""
