"""What finished instruments say about finger and string ends: a fit of the uncertain parameters of the prediction.

A shop that keeps its as-left readings knows where many crests stand and how true their frets are. Those readings narrow
the range that `geometry.setbacks.setback_range` leaves open. Where only the crests of one bridge against each other are
known, where the whole bridge stands is found with the rest.
"""

from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from geometry.errors import GeometryError, as_numbers, as_option, as_positive
from geometry.fretting import Fretting
from geometry.least_squares import bounded_least_squares
from geometry.prediction import fret_numbers, fretted_cents

__all__ = ["BOUNDS", "FittedFretting", "fit_fretting"]

# What each parameter may be; beyond, the model makes no sense.
BOUNDS = MappingProxyType({
    "press_mm": (3.0, 30.0), "press_depth_mm": (0.0, 3.0), "saddle_clamp": (0.0, 1.0), "nut_clamp": (0.0, 1.0),
    "fret_clamp": (0.0, 1.0), "every_clamp": (0.0, 1.0), "beyond_nut_mm": (0.0, 1000.0),
    "beyond_saddle_mm": (0.0, 1000.0),
})  # fmt: skip
# One value for several parameters; every other name stands for its own.
TIED = MappingProxyType({"every_clamp": ("saddle_clamp", "nut_clamp", "fret_clamp")})
STEP = 1e-4  # of a parameter's range, for its derivative
TOLERANCE = 1e-8  # of a parameter's range
MOST_ROUNDS = 60
HALVINGS = 25
PLACES = ("known", "relative")
BRIDGE_ROUNDS = 4  # Gauss's, for where one bridge stands: the cents are all but linear in it
BRIDGE_STEP_MM = 0.01


@dataclass(frozen=True)
class FittedFretting:
    """Parameters that fit readings best; see `fit_fretting`.

    Attributes
    ----------
    fretting : geometry.fretting.Fretting
        All parameters, the fitted ones put in.
    names : tuple of str
        Those that were fitted.
    values, standard : numpy.ndarray
        Shape (names,): values and standard uncertainties, in the parameters' units.
    correlation : numpy.ndarray
        Shape (names, names): near ±1 where the readings hardly tell two of them apart.
    at_bound : numpy.ndarray
        Shape (names,): −1 or 1 where a value stands at the end of its range, else 0; its uncertainty is then that of
        the readings alone.
    remains_cents : numpy.ndarray
        Shape of the readings: measured less predicted [cents].
    scatter_cents : float
        Root mean square of that, for the number of readings less that of parameters and of bridges found [cents].
    readings : int
        How many there were.
    bridge_back_mm : numpy.ndarray
        Shape of the readings' leading axes: how much further back each bridge stands than the placement has it; zeros
        where the places are known [mm].
    """

    fretting: Fretting
    names: tuple
    values: np.ndarray
    standard: np.ndarray
    correlation: np.ndarray
    at_bound: np.ndarray
    remains_cents: np.ndarray
    scatter_cents: float
    readings: int
    bridge_back_mm: np.ndarray


def fit_fretting(
    measured_cents, elastic, placement, *, frets, free=("saddle_clamp",), start=None, prior=None, reading_cents=1.0,
    places="known",
):
    """Fit parameters of `geometry.fretting.Fretting` to readings of any number of finished instruments.

    Least squares of measured less predicted cents within `BOUNDS`, by Gauss and Newton with halved steps, readings
    weighted by ``1/u²`` and parameters held by prior knowledge where it is given. The covariance is
    ``(Jᵀ·W·J + P)⁻¹``, times the ratio of the scatter found to the scatter expected where that is above 1. Derived
    (weighted least squares; GUM, JCGM 100:2008, 5.2 for the correlations).

    Parameters
    ----------
    measured_cents : array_like
        Shape (..., frets, strings): how sharp fretted notes were over their open strings; NaN for none read [cents].
        All leading axes are instruments and are fitted together.
    elastic : geometry.fretting.Elastic
        The strings, shape (..., strings).
    placement : geometry.fretting.Placement
        Nut, frets and crests as they were when it was read, shape (..., strings).
    frets : int or array_like
        Which frets were read: a count from the first on, or numbers of one axis; ``[12]`` for octaves.
    free : sequence of str
        Names from `BOUNDS`: what to fit, one value for all strings and instruments.
    start : geometry.fretting.Fretting, optional
        The others, and where to start; the defaults if not given.
    prior : dict, optional
        What is known beforehand: name to (value, standard uncertainty above 0).
    reading_cents : array_like
        Standard uncertainty of a reading, model's included, above 0; broadcasts to the readings [cents].
    places : str
        'known', or 'relative': the set-backs of the placement hold between the strings of one instrument only, and one
        more, common to its strings and best for its readings, is added to them.

    Returns
    -------
    FittedFretting
        Values with their uncertainty.

    Raises
    ------
    GeometryError
        Where the readings cannot tell the parameters apart, or the iteration does not settle.

    Examples
    --------
    >>> from geometry.fretting import Placement, elastic_from_sensitivity
    >>> nylon = elastic_from_sensitivity([28.6, 23.6], radius_mm=[0.546, 0.356])
    >>> guitar = Placement(650, nut_mm=1.0, crest_mm=5.0, saddle_back_mm=[2.4, 1.5])
    >>> readings = fretted_cents(nylon, guitar, fretting=Fretting(saddle_clamp=0.8), frets=[12]).cents
    >>> found = fit_fretting(readings, nylon, guitar, frets=[12], reading_cents=0.5)
    >>> found.values.round(6).tolist(), found.standard.round(2).tolist()
    ([0.8], [0.08])
    """
    names = tuple(as_option("free", one, BOUNDS) for one in free)
    single = [one for name in names for one in _stands_for(name)]
    if not names or len(set(single)) < len(single):
        raise GeometryError("free", free, "at least one name, each only once")
    relative = as_option("places", places, PLACES) == "relative"
    problem = _Problem.of(measured_cents, elastic, placement, frets, names, prior, reading_cents, start, relative)
    values = problem.first()
    for _ in range(MOST_ROUNDS):
        step, at_bound = problem.step(values)
        step, settled = problem.shortened(values, step)
        values = values + step
        if settled:
            return _told(problem, values, at_bound)
    said = f"such that the fit settles: the last step was {step.tolist()}, the tolerance is {TOLERANCE:g} of the range"
    raise GeometryError("free", free, said)


def _stands_for(name):
    return TIED.get(name, (name,))


@dataclass(frozen=True)
class _Problem:
    """Readings, what predicts them, and what is known beforehand."""

    measured: np.ndarray
    weight: np.ndarray
    elastic: object
    placement: object
    numbers: np.ndarray
    names: tuple
    base: Fretting
    known: np.ndarray  # prior values, and
    hold: np.ndarray  # their weights 1/u², 0 for none
    relative: bool

    @classmethod
    def of(cls, measured_cents, elastic, placement, frets, names, prior, reading_cents, start, relative):
        numbers = fret_numbers(frets)
        measured = as_numbers("measured_cents", measured_cents, strings=True)
        if measured.ndim < 2 or measured.shape[-2] != len(numbers):
            raise GeometryError("measured_cents", measured.shape, f"shaped (..., {len(numbers)}, strings)")
        prior = {} if prior is None else prior
        if strangers := set(prior) - set(names):
            raise GeometryError("prior", sorted(strangers), "for parameters that are free")
        spread = as_positive("prior", [prior.get(name, (0.0, 1.0))[1] for name in names])
        return cls(
            measured, 1.0 / as_positive("reading_cents", reading_cents) ** 2, elastic, placement, numbers, names,
            Fretting() if start is None else start, np.array([float(prior.get(name, (0.0, 1.0))[0]) for name in names]),
            np.where([name in prior for name in names], spread**-2.0, 0.0), relative,
        )  # fmt: skip

    def bounds(self):
        return np.array([BOUNDS[name] for name in self.names]).T

    def first(self):
        """Where to start: a little inside the bounds, where every parameter has an effect."""
        low, high = self.bounds()
        given = [np.mean([np.mean(getattr(self.base, one)) for one in _stands_for(name)]) for name in self.names]
        return np.clip(given, low + 0.01 * (high - low), high - 0.01 * (high - low))

    def fretting(self, values):
        """All parameters with these put in."""
        pairs = zip(self.names, values, strict=True)
        return replace(self.base, **{one: value for name, value in pairs for one in _stands_for(name)})

    def remains(self, values):
        """Measured less predicted; NaN where there is no reading or no prediction."""
        return self.remains_and_bridges(values)[0]

    def remains_and_bridges(self, values):
        """The same, and how far back each bridge stands for the sum of its weighted squares to be least."""
        finger, back = self.fretting(values), np.zeros(self.measured.shape[:-2])
        for _ in range(BRIDGE_ROUNDS if self.relative else 0):
            remains = self.remains_at(finger, back)
            slope = (self.remains_at(finger, back + BRIDGE_STEP_MM) - remains) / BRIDGE_STEP_MM
            weight = np.where(np.isnan(remains), 0.0, self.weight)
            slope, remains = np.where(weight > 0, slope, 0.0), np.where(weight > 0, remains, 0.0)
            square = (weight * slope**2).sum(axis=(-2, -1))
            back = back - (weight * slope * remains).sum(axis=(-2, -1)) / np.where(square > 0, square, np.inf)
        return self.remains_at(finger, back), back

    def remains_at(self, finger, back):
        placed = replace(self.placement, saddle_back_mm=self.placement.saddle_back_mm + back[..., None])
        return self.measured - fretted_cents(self.elastic, placed, fretting=finger, frets=self.numbers).cents

    def cost(self, values):
        return np.nansum(self.weight * self.remains(values) ** 2) + (self.hold * (values - self.known) ** 2).sum()

    def slopes(self, values):
        """Cents per unit of each parameter on the last axis, from inside the bounds."""
        low, high = self.bounds()
        columns = []
        for one, reach in enumerate(STEP * (high - low)):
            ends = np.array([values, values])
            ends[:, one] = max(values[one] - reach, low[one]), min(values[one] + reach, high[one])
            below, above = (self.remains(end) for end in ends)
            columns.append((below - above) / (ends[1, one] - ends[0, one]))
        return np.stack(columns, axis=-1)

    def rows(self, values):
        """Weighted slopes and remains as the rows of a linear problem, prior knowledge included."""
        remains, slopes = self.remains(values), self.slopes(values)
        root = np.sqrt(np.broadcast_to(self.weight, remains.shape))[~np.isnan(remains)]
        held = np.sqrt(self.hold)
        matrix = np.concatenate([slopes[~np.isnan(remains)] * root[:, None], np.diag(held)])
        return matrix, np.concatenate([remains[~np.isnan(remains)] * root, held * (self.known - values)])

    def step(self, values):
        """Bounded step to the minimum of the linear problem here, and which bounds it meets."""
        low, high = self.bounds()
        matrix, goal = self.rows(values)
        if _told_apart(matrix, high - low) < len(self.names):
            raise GeometryError("free", self.names, "such that the readings, or prior, tell the parameters apart")
        fit = bounded_least_squares(matrix, goal, lower=low - values, upper=high - values)
        return fit.solution, fit.at_bound

    def shortened(self, values, step):
        """The step, halved until it does not raise the sum of squares; and whether it is below the tolerance."""
        low, high = self.bounds()
        allowed = self.cost(values) * (1.0 + 1e-9) + 1e-18 * self.measured.size
        for _ in range(HALVINGS):
            small = bool((np.abs(step) <= TOLERANCE * (high - low)).all())
            if small or self.cost(np.clip(values + step, low, high)) <= allowed:
                return np.clip(values + step, low, high) - values, small
            step = 0.5 * step
        said = f"such that the fit settles: even a step of {step.tolist()} is too long"
        raise GeometryError("free", self.names, said)


def _told_apart(matrix, span):
    """How many parameters the rows determine, each counted in its own range."""
    return np.linalg.matrix_rank(matrix * span, tol=1e-9 * np.abs(matrix * span).max(initial=1e-300))


def _told(problem, values, at_bound):
    matrix, _ = problem.rows(values)
    remains, bridges = problem.remains_and_bridges(values)
    known = ~np.isnan(remains)
    count, names = int(known.sum()), problem.names
    taken = len(names) + problem.relative * int(known.any(axis=(-2, -1)).sum())
    spare, weight = max(count - taken, 1), np.broadcast_to(problem.weight, remains.shape)[known]
    excess = (weight * remains[known] ** 2).sum() / spare
    covariance = np.linalg.inv(matrix.T @ matrix) * max(excess, 1.0)
    standard = np.sqrt(np.diag(covariance))
    scatter = float(np.sqrt((remains[known] ** 2).sum() / spare))
    return FittedFretting(
        problem.fretting(values), names, values, standard, covariance / np.outer(standard, standard), at_bound, remains,
        scatter, count, bridges,
    )  # fmt: skip
