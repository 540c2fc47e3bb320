"""The workshop room."""
