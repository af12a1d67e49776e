"""Data in and out: tables and address cards read in, everything and one person's data given out, a person reduced."""
