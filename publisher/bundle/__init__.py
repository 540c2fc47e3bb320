"""The bundle room."""
