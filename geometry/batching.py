"""A function of whole dataclasses of arrays over many instruments, a bounded number of them at a time."""

from dataclasses import fields, is_dataclass

import numpy as np

__all__ = ["in_chunks", "picked"]


def in_chunks(function, given, chunk):
    """Call a function on pieces of its arguments' leading axes and put the results together.

    Parameters
    ----------
    function : callable
        Takes the arguments, answers a frozen dataclass of arrays or of such dataclasses.
    given : sequence of dataclass instances
        Arguments: frozen dataclasses of arrays, or of such dataclasses, whose class names its per-string fields in
        ``PER_STRING``. Leading axes broadcast.
    chunk : int
        Instruments taken together.

    Returns
    -------
    object
        What the function answers, every array with the common leading axes.

    Examples
    --------
    >>> from geometry.sheet import Standards
    >>> whole = in_chunks(lambda one: one, [Standards(relief_mm=[0.1, 0.2, 0.3])], 2)
    >>> whole.relief_mm.tolist(), whole.crest_mm.shape
    ([0.1, 0.2, 0.3], (3, 1))
    """
    if all(_is_single(record) for record in given):
        return function(*given)
    shape = np.broadcast_shapes(*set().union(*(_leading(record) for record in given)))
    flat = [_each(record, lambda array, tail: _on(array, shape, tail)) for record in given]
    size = int(np.prod(shape))
    whole = None
    for start in range(0, max(size, 1), chunk):
        piece = slice(start, start + chunk)
        part = function(*(_each(record, lambda array, tail, piece=piece: array[piece]) for record in flat))
        # The whole is made once and filled, so that no more than one piece is held beside it.
        whole = _mapped(part, lambda array: np.empty((size, *array.shape[1:]), array.dtype)) if whole is None else whole
        _filled(whole, part, piece)
    return _mapped(whole, lambda array: array.reshape(*shape, *array.shape[1:]))


def _is_single(record):
    """Whether no array of a record has a leading axis."""
    per_string = record.PER_STRING
    for name, value in vars(record).items():
        if type(value) is np.ndarray:
            if value.ndim > (name in per_string):
                return False
        elif not _is_single(value):
            return False
    return True


def _leading(record):
    """Leading axes of the arrays of a record."""
    shapes = set()
    for name, value in vars(record).items():
        if isinstance(value, np.ndarray):
            shapes.add(value.shape[:-1] if name in record.PER_STRING else value.shape)
        else:
            shapes |= _leading(value)
    return shapes


def _on(array, shape, tail):
    """The array with one leading axis for all instruments; copied only where the instruments have several axes."""
    return np.broadcast_to(array, (*shape, *tail)).reshape(-1, *tail)


def _each(record, change):
    """The same record with `change(array, shape of its last axis)` in place of every array."""
    values = {}
    for name in (one.name for one in fields(record)):
        value = getattr(record, name)
        if is_dataclass(value):
            values[name] = _each(value, change)
        else:
            values[name] = change(value, value.shape[-1:] if name in record.PER_STRING else ())
    return type(record)(**values)


def _mapped(record, change):
    """An answer with `change(array)` in place of every array."""
    values = {one.name: getattr(record, one.name) for one in fields(record)}
    return type(record)(**{
        name: _mapped(value, change) if is_dataclass(value) else change(value) for name, value in values.items()
    })  # fmt: skip


def _filled(whole, part, piece):
    for one in fields(whole):
        into, value = getattr(whole, one.name), getattr(part, one.name)
        if is_dataclass(into):
            _filled(into, value, piece)
        else:
            into[piece] = value


def picked(values, index):
    """One element of the last axis for each of the leading ones.

    Parameters
    ----------
    values : numpy.ndarray
        Shape (..., choices); leading axes broadcast with those of `index`.
    index : numpy.ndarray
        Whole numbers, one for each of the leading axes.

    Returns
    -------
    numpy.ndarray
        Shape of `index`, or of the leading axes.

    Examples
    --------
    >>> picked(np.array([[1.0, 2.0], [3.0, 4.0]]), np.array([1, 0])).tolist()
    [2.0, 3.0]
    """
    if values.ndim == 1:
        return values[index]
    return np.take_along_axis(np.broadcast_to(values, (*index.shape, values.shape[-1])), index[..., None], -1)[..., 0]
