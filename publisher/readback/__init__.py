"""The readback room."""
