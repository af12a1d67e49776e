"""Lengths, angles and threads as people write and read them; the numbers come from geometry."""

# The threads that posts, studs and saddle screws have, by the name a craftsman says.
THREAD_CHOICES = [
    ("M2", "M2"), ("M2.5", "M2.5"), ("M3", "M3"), ("M4", "M4"), ("M5", "M5"), ("M6", "M6"), ("M8", "M8"),
    ("#4-40", "#4-40"), ("#6-32", "#6-32"), ("#8-32", "#8-32"), ("#10-32", "#10-32"),
    ("1/4-20", "1/4-20"), ("5/16-24", "5/16-24"),
]  # fmt: skip
