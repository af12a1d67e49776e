"""Pages of the staff room."""
