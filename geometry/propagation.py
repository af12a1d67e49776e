"""Uncertainty of a result from the uncertainties of what goes into it, for any function of this package."""

import math
from dataclasses import dataclass

import numpy as np

from geometry.errors import GeometryError, as_count, as_not_negative, as_numbers, as_option

__all__ = ["METHODS", "Propagated", "propagate"]

METHODS = ("derivative", "unscented", "monte_carlo")
STEP = 1e-3  # of the standard uncertainty: both truncation and rounding then stay below 1e-8 of the derivative


@dataclass(frozen=True)
class Propagated:
    """A result and its standard uncertainty; see `propagate`.

    Attributes
    ----------
    value, standard : numpy.ndarray or dict of numpy.ndarray
        In the form in which the function answers.
    method : str
        How it was found.
    """

    value: object
    standard: object
    method: str


def propagate(function, values, standard_uncertainties, *, per_string=(), method="derivative", draws=4096, seed=0):
    """Standard uncertainty of a function's results from independent uncertainties of its arguments.

    All disturbed arguments are stacked on one new leading axis, so the function is called once.

    - 'derivative': ``u² = Σ (∂f/∂x_i)²·u_i²`` by central differences. Source: GUM (JCGM 100:2008) 5.1.2.
    - 'unscented': points at ``±sqrt(n + κ)·u_i``, ``κ = max(3 − n, 0)``, weights ``1/(2(n + κ))``; also moves the
      value to the weighted mean. Source: Julier & Uhlmann, Proc. IEEE 92 (2004) 401, from memory. For bent functions.
    - 'monte_carlo': normal draws. Source: GUM Supplement 1 (JCGM 101:2008). For functions with corners.

    Parameters
    ----------
    function : callable
        Takes the arguments by keyword, broadcasts over leading axes, answers an array or a dict of arrays.
    values : dict of array_like
        Arguments with an uncertainty; bind the others beforehand. Leading axes are separate problems; NaN where
        missing.
    standard_uncertainties : dict of array_like
        Same names, 0 or more, shapes that broadcast to the values'; NaN counts as a missing argument.
    per_string : collection of str
        Names of the per-string arguments: each element of their last axis has an error of its own.
    method : str
        One of `METHODS`.
    draws : int
        Draws for 'monte_carlo', 16 to 1,000,000.
    seed : int
        Seed for 'monte_carlo'.

    Returns
    -------
    Propagated
        NaN where the result depends on something missing.

    Examples
    --------
    >>> found = propagate(lambda a, b: a * b, {"a": 3.0, "b": 2.0}, {"a": 0.1, "b": 0.2})
    >>> float(found.value), float(found.standard.round(6))
    (6.0, 0.632456)
    """
    as_option("method", method, METHODS)
    centre, spread = _on_one_batch(values, standard_uncertainties, per_string)
    offsets = _offsets(centre, per_string, method, as_count("draws", draws, 16, 1_000_000), seed)
    disturbed = {name: centre[name] + spread[name] * offsets[name] for name in centre}
    answers = function(**disturbed)
    if not isinstance(answers, dict):
        value, standard = SUMMARIES[method](np.asarray(answers, dtype=float))
        return Propagated(value, standard, method)
    pairs = {name: SUMMARIES[method](np.asarray(one, dtype=float)) for name, one in answers.items()}
    return Propagated({k: v for k, (v, _) in pairs.items()}, {k: u for k, (_, u) in pairs.items()}, method)


def _on_one_batch(values, uncertainties, per_string):
    """Values and uncertainties, each brought to the common leading axes."""
    if not values or values.keys() != uncertainties.keys():
        raise GeometryError("standard_uncertainties", sorted(uncertainties), f"given for each of {sorted(values)}")
    if strangers := set(per_string) - values.keys():
        raise GeometryError("per_string", sorted(strangers), f"among {sorted(values)}")
    centre = {name: as_numbers(name, one, strings=name in per_string) for name, one in values.items()}
    spread = {name: as_not_negative(f"standard_uncertainties[{name}]", one) for name, one in uncertainties.items()}
    batch = np.broadcast_shapes(*(one.shape[:-1] if name in per_string else one.shape for name, one in centre.items()))
    for name, one in centre.items():
        shape = batch + (one.shape[-1:] if name in per_string else ())
        centre[name] = np.broadcast_to(one, shape)
        spread[name] = np.broadcast_to(spread[name], shape)
    return centre, spread


def _offsets(centre, per_string, method, draws, seed):
    """Displacements in units of the standard uncertainty; the first one is none at all."""
    counts = {name: one.shape[-1] if name in per_string else 1 for name, one in centre.items()}
    total = sum(counts.values())
    if method == "monte_carlo":
        return _draws(centre, draws, seed)
    reach = STEP if method == "derivative" else math.sqrt(total + max(3 - total, 0))
    table = np.concatenate([np.zeros((1, total)), reach * np.eye(total), -reach * np.eye(total)])
    starts = dict(zip(counts, np.cumsum([0, *counts.values()]), strict=False))
    shaped = {}
    for name, one in centre.items():
        columns = table[:, starts[name] : starts[name] + counts[name]]
        tail = (counts[name],) if name in per_string else ()
        shaped[name] = columns.reshape((len(table),) + (1,) * (one.ndim - len(tail)) + tail)
    return shaped


def _draws(centre, draws, seed):
    generator = np.random.default_rng(seed)
    shaped = {name: generator.standard_normal((draws + 1, *one.shape)) for name, one in centre.items()}
    for one in shaped.values():
        one[0] = 0.0
    return shaped


def _by_derivative(answers):
    half = (len(answers) - 1) // 2
    change = (answers[1 : half + 1] - answers[half + 1 :]) / (2.0 * STEP)
    return answers[0], np.sqrt((change * change).sum(axis=0))


def _by_sigma_points(answers):
    total = (len(answers) - 1) // 2
    kappa = max(3 - total, 0)
    weight = 0.5 / (total + kappa)
    mean = kappa / (total + kappa) * answers[0] + weight * answers[1:].sum(axis=0)
    apart = answers - mean
    squares = kappa / (total + kappa) * apart[0] ** 2 + weight * (apart[1:] ** 2).sum(axis=0)
    return mean, np.sqrt(squares)


def _by_draws(answers):
    return answers[1:].mean(axis=0), answers[1:].std(axis=0, ddof=1)


SUMMARIES = {"derivative": _by_derivative, "unscented": _by_sigma_points, "monte_carlo": _by_draws}
