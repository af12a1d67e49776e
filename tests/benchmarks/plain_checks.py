"""The boundary checks of `geometry.errors`, one number at a time."""

from geometry.errors import GeometryError


def number(argument, value):
    if type(value) is not float:
        raise GeometryError(argument, value, "a number")
    return value


def positive(argument, value):
    if number(argument, value) <= 0.0 or value == float("inf"):
        raise GeometryError(argument, value, "above 0 and finite")
    return value


def not_negative(argument, value):
    if number(argument, value) < 0.0:
        raise GeometryError(argument, value, "0 or more")
    return value


def within(argument, value, low, high):
    if number(argument, value) < low or value > high:
        raise GeometryError(argument, value, f"from {low:g} to {high:g}")
    return value
