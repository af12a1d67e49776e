"""Adjusters of a bridge as linear maps to its crests, and the moves that bring the crests where they ought to be.

Every bridge is a sum of parts of two forms only: two *ends* some span apart, between which a string moves by the
lever, or one adjuster per *string*. Each acts on the crest's height or on its place along the string.
"""

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from geometry.errors import GeometryError, as_not_negative, as_numbers, as_option, as_positive
from geometry.least_squares import bounded_least_squares

__all__ = [
    "FAMILIES", "Adjusters", "CrestMoves", "Part", "PostMoves", "adjusters_for", "crest_changes_mm",
    "crest_on_posts_mm", "lever", "post_moves", "solve_moves",
]  # fmt: skip

UP_OR_DOWN, DOWN_ONLY, BACK_ONLY = (-np.inf, np.inf), (-np.inf, 0.0), (0.0, np.inf)


@dataclass(frozen=True)
class Part:
    """One kind of adjuster of a bridge.

    Attributes
    ----------
    name : str
        What is turned, moved or filed.
    form : str
        'ends' or 'strings'.
    moves : str
        'height' or 'along': which way the crest goes, up or towards the tail positive.
    bounds : tuple of float
        Least and most that this adjuster can ever do from where it is.
    """

    name: str
    form: str
    moves: str
    bounds: tuple = UP_OR_DOWN


POSTS, SADDLES = Part("post", "ends", "height"), Part("saddle", "strings", "along")
SADDLE_SCREWS = Part("saddle_height", "strings", "height")
# A saddle's bottom can be filed at both ends, or shimmed; its top can be filed only, per string, either way along it.
BOTTOM, TOP = Part("saddle_bottom", "ends", "height"), Part("saddle_top", "strings", "height", DOWN_ONLY)

# Adjusters by bridge family. Common practice, no source.
FAMILIES = MappingProxyType({
    "two_post_stop": (POSTS, SADDLES),
    "two_post_fixed": (POSTS, SADDLES),
    "wraparound": (POSTS, Part("set_screw", "ends", "along", BACK_ONLY)),
    "flat_plate": (SADDLE_SCREWS, SADDLES),
    "vibrato": (POSTS, SADDLE_SCREWS, SADDLES),
    "pinned": (BOTTOM, TOP, Part("crest_on_saddle", "strings", "along")),
    "tied": (BOTTOM, TOP, Part("crest_on_saddle", "strings", "along")),
    "floating": (POSTS, Part("bridge_end", "ends", "along")),
    "headless": (SADDLE_SCREWS, SADDLES),
})  # fmt: skip


@dataclass(frozen=True)
class Adjusters:
    """The adjusters of one bridge as linear maps; see `adjusters_for`.

    Attributes
    ----------
    names : tuple of str
        One per adjuster: 'post bass', 'post treble', 'saddle 0', 'saddle 1' …, strings counted from the bass side.
    height, along : numpy.ndarray
        Shape (..., strings, adjusters): mm of crest per mm of adjuster, up and towards the tail positive.
    lower, upper : numpy.ndarray
        Shape (adjusters,): least and most each can do from where it is [mm].
    """

    names: tuple
    height: np.ndarray
    along: np.ndarray
    lower: np.ndarray
    upper: np.ndarray


@dataclass(frozen=True)
class CrestMoves:
    """Moves of a bridge's adjusters; see `solve_moves`.

    Attributes
    ----------
    moves_mm : numpy.ndarray
        Shape (..., adjusters) [mm].
    remains_mm : numpy.ndarray
        Per string: wanted change less what the moves give [mm].
    at_bound : numpy.ndarray
        Shape (..., adjusters): −1 or 1 where an adjuster can go no further.
    """

    moves_mm: np.ndarray
    remains_mm: np.ndarray
    at_bound: np.ndarray


@dataclass(frozen=True)
class PostMoves:
    """Moves of two posts; see `post_moves`.

    Attributes
    ----------
    bass_mm, treble_mm : numpy.ndarray
        Per instrument: up positive [mm].
    remains_mm : numpy.ndarray
        Per string: wanted change less what the moves give [mm].
    bass_standard_mm, treble_standard_mm : numpy.ndarray
        Per instrument: standard uncertainties of the two moves [mm].
    """

    bass_mm: np.ndarray
    treble_mm: np.ndarray
    remains_mm: np.ndarray
    bass_standard_mm: np.ndarray
    treble_standard_mm: np.ndarray


def lever(lateral_mm, *, span_mm):
    """Share of each end's move that arrives at each string: ``1/2 ∓ y/P``.

    Source: straight line between the two ends. Strings outside the span get more than all of the nearer end.

    Parameters
    ----------
    lateral_mm : array_like
        Per string, shape (..., strings) [mm]; a missing string's share is that of the middle.
    span_mm : array_like
        Per instrument: distance between the ends, above 0 [mm].

    Returns
    -------
    numpy.ndarray
        Shape (..., strings, 2): bass end, treble end; each pair sums to 1.

    Examples
    --------
    >>> lever([-25.0, 0.0, 25.0], span_mm=100).tolist()
    [[0.75, 0.25], [0.5, 0.5], [0.25, 0.75]]
    """
    lateral = as_numbers("lateral_mm", lateral_mm, strings=True)
    across = np.where(np.isnan(lateral), 0.0, lateral) / as_positive("span_mm", span_mm)[..., None]
    shares = np.empty((*across.shape, 2))
    shares[..., 0], shares[..., 1] = 0.5 - across, 0.5 + across
    return shares


def crest_on_posts_mm(arch_mm, *, lateral_mm, span_mm, bass_mm, treble_mm):
    """Crest heights of a bridge on two posts: ``h_i = arch_i + (h_B + h_T)/2 + (h_T − h_B)·y_i/P``.

    Source: straight line between the posts.

    Parameters
    ----------
    arch_mm : array_like
        Per string: crest above the line between the two post readings [mm].
    lateral_mm : array_like
        Per string [mm].
    span_mm : array_like
        Per instrument: distance between the posts, above 0 [mm].
    bass_mm, treble_mm : array_like
        Per instrument: height at each post [mm].

    Returns
    -------
    numpy.ndarray
        Per string [mm]; NaN where a string or a post's reading is missing.

    Examples
    --------
    >>> crest_on_posts_mm([0.0, 1.0, 0.0], lateral_mm=[-25, 0, 25], span_mm=100, bass_mm=16, treble_mm=14).tolist()
    [15.5, 16.0, 14.5]
    """
    ends = np.stack(np.broadcast_arrays(as_numbers("bass_mm", bass_mm), as_numbers("treble_mm", treble_mm)), axis=-1)
    shares = lever(lateral_mm, span_mm=span_mm)
    return as_numbers("arch_mm", arch_mm, strings=True) + (shares * ends[..., None, :]).sum(axis=-1)


def adjusters_for(family, lateral_mm, *, span_mm):
    """The adjusters of a bridge family as linear maps.

    Which adjusters a family has is common practice, no source; their effects are derived (straight line between two
    ends).

    Parameters
    ----------
    family : str or sequence of Part
        A name of `FAMILIES`, or parts put together for a bridge that is none of them.
    lateral_mm : array_like
        Per string, shape (..., strings) [mm].
    span_mm : array_like
        Per instrument: distance between the two ends, where the family has such; otherwise any number above 0 [mm].

    Returns
    -------
    Adjusters
        Maps and bounds.

    Examples
    --------
    >>> adjusters = adjusters_for("two_post_stop", [-25.0, 25.0], span_mm=100)
    >>> adjusters.names
    ('post bass', 'post treble', 'saddle 0', 'saddle 1')
    >>> adjusters.height.tolist()
    [[0.75, 0.25, 0.0, 0.0], [0.25, 0.75, 0.0, 0.0]]
    """
    parts = FAMILIES[as_option("family", family, FAMILIES)] if isinstance(family, str) else tuple(family)
    ends = lever(lateral_mm, span_mm=span_mm)
    strings = np.broadcast_to(np.eye(ends.shape[-2]), (*ends.shape[:-1], ends.shape[-2]))
    names, height, along, bounds = [], [], [], []
    for part in parts:
        shares = ends if as_option("form", part.form, ("ends", "strings")) == "ends" else strings
        up = as_option("moves", part.moves, ("height", "along")) == "height"
        height.append(shares if up else 0.0 * shares)
        along.append(0.0 * shares if up else shares)
        sides = ("bass", "treble") if part.form == "ends" else range(ends.shape[-2])
        names += [f"{part.name} {side}" for side in sides]
        bounds += [part.bounds] * shares.shape[-1]
    lower, upper = np.array(bounds).T
    return Adjusters(
        tuple(names), np.concatenate(height, axis=-1), np.concatenate(along, axis=-1), lower, upper
    )  # fmt: skip


def crest_changes_mm(adjusters, moves_mm):
    """What moves of the adjusters do to every crest.

    Derived: every adjuster moves the crests in proportion, and their effects add up.

    Parameters
    ----------
    adjusters : Adjusters
        The bridge.
    moves_mm : array_like
        Shape (..., adjusters) [mm].

    Returns
    -------
    height_mm, along_mm : numpy.ndarray
        Per string: up, and towards the tail [mm].

    Examples
    --------
    >>> adjusters = adjusters_for("two_post_stop", [-25.0, 25.0], span_mm=100)
    >>> [one.tolist() for one in crest_changes_mm(adjusters, [1.0, 0.0, 0.0, 2.0])]
    [[0.75, 0.25], [0.0, 2.0]]
    """
    moves = as_numbers("moves_mm", moves_mm, strings=True)
    if moves.shape[-1] != len(adjusters.names):
        raise GeometryError("moves_mm", moves.shape, f"one move for each of {len(adjusters.names)} adjusters")
    return tuple((one @ moves[..., None])[..., 0] for one in (adjusters.height, adjusters.along))


def solve_moves(adjusters, *, height_mm=None, along_mm=None, weights=None, lower_mm=None, upper_mm=None):
    """Moves of all adjusters that bring the crests as near as they can to the changes wanted.

    Bounded least squares over the strings. Heights and places along are solved apart: no adjuster does both. Where
    adjusters can do each other's work the shortest moves are taken; bounds of 0 keep one out of it.

    Derived; the solver is `geometry.least_squares.bounded_least_squares`.

    Parameters
    ----------
    adjusters : Adjusters
        The bridge.
    height_mm, along_mm : array_like, optional
        Per string: changes wanted, one of the two [mm]; NaN leaves a string out.
    weights : array_like, optional
        Per string, 0 or more: how much each string counts.
    lower_mm, upper_mm : array_like, optional
        Shape (..., adjusters): further bounds, such as travel left [mm].

    Returns
    -------
    CrestMoves
        Moves, and what remains; adjusters that act the other way stay at 0.

    Examples
    --------
    >>> adjusters = adjusters_for("two_post_stop", [-25.0, 25.0], span_mm=100)
    >>> found = solve_moves(adjusters, height_mm=[0.5, -0.5])
    >>> found.moves_mm.round(9).tolist(), np.abs(found.remains_mm).round(9).tolist()
    ([1.0, -1.0, 0.0, 0.0], [0.0, 0.0])
    """
    if (height_mm is None) == (along_mm is None):
        raise GeometryError("height_mm", height_mm, "given, or along_mm, but not both")
    matrix = adjusters.height if along_mm is None else adjusters.along
    wanted = height_mm if along_mm is None else along_mm
    lower, upper = adjusters.lower, adjusters.upper
    if lower_mm is not None:
        lower = np.fmax(lower, as_numbers("lower_mm", lower_mm))
    if upper_mm is not None:
        upper = np.fmin(upper, as_numbers("upper_mm", upper_mm))
    fit = bounded_least_squares(matrix, wanted, lower=lower, upper=upper, weights=weights)
    acts = (matrix != 0).any(axis=-2)
    moves = np.where(acts, fit.solution, np.where(np.isnan(fit.solution), np.nan, 0.0))
    return CrestMoves(moves, fit.residual, np.where(acts, fit.at_bound, 0))


def post_moves(wanted_mm, *, lateral_mm, span_mm, weights=None, standard_mm=0.0):
    """Both posts of a bridge at once: weighted least squares over the strings, in closed form.

    The line ``a + b·y`` nearest to the wanted changes, read off at the posts ``y = ∓P/2``. With a single string both
    posts move alike. Derived; `solve_moves` does the same within bounds.

    Parameters
    ----------
    wanted_mm : array_like
        Per string: change of crest height wanted, up positive [mm]; NaN leaves the string out.
    lateral_mm : array_like
        Per string [mm].
    span_mm : array_like
        Per instrument: distance between the posts, above 0 [mm].
    weights : array_like, optional
        Per string, 0 or more; 1 if not given.
    standard_mm : array_like
        Per string, or one number: standard uncertainty of the change wanted, 0 or more [mm].

    Returns
    -------
    PostMoves
        NaN where no string is left.

    Examples
    --------
    >>> moves = post_moves([0.4, 0.1], lateral_mm=[-25, 25], span_mm=75)
    >>> float(moves.bass_mm.round(9)), float(moves.treble_mm.round(9))
    (0.475, 0.025)
    """
    wanted = as_numbers("wanted_mm", wanted_mm, strings=True)
    lateral = as_numbers("lateral_mm", lateral_mm, strings=True)
    weight = as_not_negative("weights", 1.0 if weights is None else weights)
    gone = np.isnan(wanted + lateral + weight)
    weight = np.where(gone, 0.0, weight)
    change, across = np.where(gone, 0.0, wanted), np.where(gone, 0.0, lateral)
    total = np.add.reduce(weight, axis=-1)
    total = np.where(total > 0, total, np.nan)
    middle, level = np.vecdot(weight, across) / total, np.vecdot(weight, change) / total
    apart = across - middle[..., None]
    lean = weight * apart
    spread = np.vecdot(lean, apart)
    spread = np.where(spread > 0, spread, np.inf)
    tilt = np.vecdot(lean, change) / spread
    half = 0.5 * as_positive("span_mm", span_mm)
    noise = weight * np.where(gone, 0.0, as_not_negative("standard_mm", standard_mm))
    ends = []
    for arm in (-half - middle, half - middle):
        share = noise * ((1.0 / total)[..., None] + apart * (arm / spread)[..., None])
        ends.append((level + tilt * arm, np.sqrt(np.vecdot(share, share))))
    (bass, bass_standard), (treble, treble_standard) = ends
    remains = wanted - level[..., None] - tilt[..., None] * (lateral - middle[..., None])
    return PostMoves(bass, treble, remains, bass_standard, treble_standard)
