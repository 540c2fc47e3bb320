"""The cutfiles room."""
