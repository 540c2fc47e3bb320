"""Lines that call for a form, as the form's own lines with the caller's sizes and names."""
