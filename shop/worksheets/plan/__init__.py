"""The whole setup thought through beforehand: every move in its order, and what should be read after each.

Each move is found by the very checks that the steps use, on the readings that the moves before it should leave; so the
plan and the steps never contradict each other.
"""
