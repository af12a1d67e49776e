"""Pages of the hand-over, one file for each kind."""
