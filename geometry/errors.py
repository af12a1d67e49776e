"""The one exception of the package, and the checks at its boundary.

Each check first asks whether all is well, which fails where there is a NaN; only then it looks for what is bad.
"""

import numpy as np

__all__ = ["GeometryError", "as_count", "as_not_negative", "as_numbers", "as_option", "as_positive", "as_within"]

FEW = 24
FLOATS = np.dtype(np.float64)


class GeometryError(ValueError):
    """A bad argument: says which, what it was and what is allowed.

    Parameters
    ----------
    argument : str
        Name of the argument.
    value : object
        What it was.
    allowed : str
        What would have been right, as the rest of a sentence that starts 'must be'.

    Examples
    --------
    >>> raise GeometryError("scale_mm", -3, "above 0")
    Traceback (most recent call last):
    geometry.errors.GeometryError: scale_mm is -3; it must be above 0.
    """

    def __init__(self, argument, value, allowed):
        self.argument, self.value, self.allowed = argument, value, allowed
        super().__init__(f"{argument} is {_brief(value)}; it must be {allowed}.")

    def __reduce__(self):
        return type(self), (self.argument, self.value, self.allowed)


def _brief(value):
    """A value short enough for a message."""
    if isinstance(value, np.generic):
        value = value.item()
    said = f"{value:g}" if isinstance(value, float) else repr(value)
    return said if len(said) <= 60 else f"{said[:57]}..."


def _ends(array):
    """Least and greatest element; NaN where there is nothing, and where there is a NaN it may be NaN.

    A handful of numbers, one worksheet's, is looked through far quicker as a list.
    """
    if array.size == 1:
        one = array.item()
        return one, one
    if array.size > FEW:
        return array.min(), array.max()
    values = array.ravel().tolist()
    return (min(values), max(values)) if values else (np.nan, np.nan)


def as_numbers(argument, value, *, strings=False):
    """An array of floats; NaN passes, anything that is no real number does not.

    Parameters
    ----------
    argument : str
        Name for the message.
    value : array_like
        Any shape.
    strings : bool
        Whether a last axis of strings is required.

    Returns
    -------
    numpy.ndarray
        Floats. The argument itself where it is such an array already, so it must not be written to.

    Examples
    --------
    >>> as_numbers("height_mm", [1.5, 2])
    array([1.5, 2. ])
    """
    kind = type(value)
    if kind is float or kind is int or kind is np.float64:
        value = np.array(value, dtype=np.float64)
    elif kind is not np.ndarray or value.dtype is not FLOATS:
        value = _converted(argument, value)
    if strings and value.ndim == 0:
        raise GeometryError(argument, float(value), "an array with the strings on its last axis")
    return value


def _converted(argument, value):
    try:
        array = np.asarray(value)
        # Objects may be numbers (None becomes NaN); text, dates and complex numbers are none.
        if array.dtype.kind not in "biufO" or any(isinstance(one, (str, bytes)) for one in array.ravel().tolist()):
            raise TypeError
        return array.astype(np.float64)
    except (TypeError, ValueError):
        raise GeometryError(argument, value, "a number or an array of numbers") from None


def as_positive(argument, value, *, strings=False):
    """An array of floats above zero and finite; NaN passes.

    Parameters
    ----------
    argument : str
        Name for the message.
    value : array_like
        Any shape.
    strings : bool
        Whether a last axis of strings is required.

    Returns
    -------
    numpy.ndarray
        Floats.

    Examples
    --------
    >>> as_positive("scale_mm", 0.0)
    Traceback (most recent call last):
    geometry.errors.GeometryError: scale_mm is 0; it must be above 0 and finite.
    """
    array = as_numbers(argument, value, strings=strings)
    least, most = _ends(array)
    if least > 0.0 and most < np.inf:
        return array
    bad = (array <= 0.0) | (array == np.inf)
    if bad.any():
        raise GeometryError(argument, float(array[bad].flat[0]), "above 0 and finite")
    return array


def as_not_negative(argument, value, *, strings=False):
    """An array of floats of 0 or more; NaN and infinity pass.

    Parameters
    ----------
    argument : str
        Name for the message.
    value : array_like
        Any shape.
    strings : bool
        Whether a last axis of strings is required.

    Returns
    -------
    numpy.ndarray
        Floats.

    Examples
    --------
    >>> as_not_negative("tension_n", -2.5)
    Traceback (most recent call last):
    geometry.errors.GeometryError: tension_n is -2.5; it must be 0 or more.
    """
    array = as_numbers(argument, value, strings=strings)
    if _ends(array)[0] >= 0.0:
        return array
    bad = array < 0.0
    if bad.any():
        raise GeometryError(argument, float(array[bad].flat[0]), "0 or more")
    return array


def as_within(argument, value, low, high, *, strings=False):
    """An array of floats from `low` to `high`, both included; NaN passes.

    Parameters
    ----------
    argument : str
        Name for the message.
    value : array_like
        Any shape.
    low, high : float
        Bounds.
    strings : bool
        Whether a last axis of strings is required.

    Returns
    -------
    numpy.ndarray
        Floats.

    Examples
    --------
    >>> as_within("tilt_deg", 95, -90, 90)
    Traceback (most recent call last):
    geometry.errors.GeometryError: tilt_deg is 95; it must be from -90 to 90.
    """
    array = as_numbers(argument, value, strings=strings)
    least, most = _ends(array)
    if least >= low and most <= high:
        return array
    bad = (array < low) | (array > high)
    if bad.any():
        raise GeometryError(argument, float(array[bad].flat[0]), f"from {low:g} to {high:g}")
    return array


def as_count(argument, value, low, high):
    """A whole number from `low` to `high`.

    Parameters
    ----------
    argument : str
        Name for the message.
    value : int
        A Python or numpy whole number.
    low, high : int
        Bounds, both included.

    Returns
    -------
    int
        The number.

    Examples
    --------
    >>> as_count("count", 6, 1, 24)
    6
    """
    whole = isinstance(value, (int, np.integer)) and not isinstance(value, bool)
    if not whole or not low <= value <= high:
        raise GeometryError(argument, value, f"a whole number from {low} to {high}")
    return int(value)


def as_option(argument, value, allowed):
    """One of a set of named options.

    Parameters
    ----------
    argument : str
        Name for the message.
    value : object
        What was given.
    allowed : collection
        What may be given.

    Returns
    -------
    object
        The value.

    Examples
    --------
    >>> as_option("method", "guess", ("derivative", "unscented"))
    Traceback (most recent call last):
    geometry.errors.GeometryError: method is 'guess'; it must be one of derivative, unscented.
    """
    if value not in allowed:
        raise GeometryError(argument, value, f"one of {', '.join(str(one) for one in allowed)}")
    return value
