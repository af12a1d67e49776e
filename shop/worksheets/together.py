"""Many sheets' questions to geometry, asked at once.

A part of the model is a generator that yields each of its questions (`ask`) and is sent the answer. `alone` puts them
to geometry one after another. `together` holds many such generators side by side: like questions of all of them are
stacked on a new first axis and asked in one call, since geometry broadcasts over leading axes.
"""

from collections import defaultdict
from dataclasses import dataclass, fields, is_dataclass
from functools import wraps
from inspect import isgenerator

import numpy as np

from geometry.errors import GeometryError


@dataclass(frozen=True)
class Ask:
    """One question. Floats and arrays of it differ from sheet to sheet; all else has to be the same to be stacked."""

    function: object
    args: tuple
    kwargs: dict

    def answer(self):
        return self.function(*self.args, **self.kwargs)

    @property
    def likeness(self):
        """Equal for questions that can be asked in one call."""
        named = tuple((key, _shape(one)) for key, one in self.kwargs.items())
        return (self.function, tuple(map(_shape, self.args)), named)


def ask(function, *args, **kwargs):
    """A question for `yield`. A value for each string has the axis of the strings, one for the instrument has not."""
    return Ask(function, args, kwargs)


def asking(build):
    """A generator function as a plain function; its `steps` is the generator."""

    @wraps(build)
    def answered(*args, **kwargs):
        return alone(build(*args, **kwargs))

    answered.steps = build
    return answered


def alone(build):
    """What a generator answers, its questions asked one after another; what is no generator is an answer already."""
    if not isgenerator(build):
        return build
    try:
        question = next(build)
        while True:
            question = build.send(question.answer())
    except StopIteration as end:
        return end.value


def together(builds, *, refusals):
    """[(what it answers, None) or (None, what it raised)] of each generator. `refusals` are what may be raised."""
    found, open_ones = [None] * len(builds), {}
    for at, build in enumerate(builds):
        _go_on(found, open_ones, at, build, None, refusals)
    while open_ones:
        alike = defaultdict(list)
        for at, (_, question) in open_ones.items():
            alike[question.likeness].append(at)
        for places in alike.values():
            for at, answer in zip(places, _answers([open_ones[at][1] for at in places]), strict=True):
                _go_on(found, open_ones, at, open_ones.pop(at)[0], answer, refusals)
    return found


def _go_on(found, open_ones, at, build, answer, refusals):
    """Send one generator its answer, and keep its next question or its end."""
    try:
        question = build.send(answer() if answer else None)
    except StopIteration as end:
        found[at] = (end.value, None)
    except refusals as refused:
        found[at] = (None, refused)
    else:
        open_ones[at] = (build, question)


def _answers(questions):
    """A function for each question, which gives its answer or raises what geometry raised of it."""
    if len(questions) == 1:
        return [questions[0].answer]
    first = questions[0]
    args = [_stacked(column) for column in zip(*(one.args for one in questions), strict=True)]
    kwargs = {key: _stacked([one.kwargs[key] for one in questions]) for key in first.kwargs}
    try:
        whole = first.function(*args, **kwargs)
    except (GeometryError, ArithmeticError):
        return [one.answer for one in questions]  # some of them do not fit together: each for itself
    return [_given(_piece(whole, at)) for at in range(len(questions))]


def _given(value):
    return lambda: value


def _shape(value):
    if isinstance(value, np.ndarray):
        return ("array", value.shape, value.dtype.kind)
    if isinstance(value, float):
        return "number"
    if is_dataclass(value):
        return (type(value), *(_shape(getattr(value, one.name)) for one in fields(value)))
    return ("same", repr(value))


def _stacked(values):
    first = values[0]
    if isinstance(first, np.ndarray | float):
        return np.array(values)
    if is_dataclass(first):
        names = [one.name for one in fields(first)]
        return type(first)(**{name: _stacked([getattr(one, name) for one in values]) for name in names})
    return first


def _piece(whole, at):
    """One sheet's part of an answer."""
    if isinstance(whole, np.ndarray):
        return whole[at]
    if isinstance(whole, tuple):
        return tuple(_piece(one, at) for one in whole)
    if is_dataclass(whole):
        made = object.__new__(type(whole))  # checked already, when the whole was made
        for one in fields(whole):
            object.__setattr__(made, one.name, _piece(getattr(whole, one.name), at))
        return made
    return whole
