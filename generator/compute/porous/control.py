"""When a discharge stops, and how long the next step may be."""

from __future__ import annotations

import numpy as np

EVENT_V = 8.0e-5  # the last voltage is this near the cut-off
EVENT_SALT = 2.0e-3  # likewise, as a share of the initial concentration
WRONG_MOST = 4.0  # largest accepted miss of the parabola, in tolerances
GROWTH = 3.0
SHRINK = 0.2
SCARCE = 0.15  # share of the initial salt above depletion
FALL = 0.4  # of that in one step
HEAVY = 6.0  # weight of an error there
LIGHTEST = 0.5  # least weight of an error, however short the step
SHUT = 1.0e-7  # bracket of a stop, share of the step
NARROW = 0.02  # least share of the bracket by which it narrows


def at_stop(found):
    """Mask of members whose first event is met within its tolerance."""
    near = np.abs(found) < (EVENT_V, EVENT_SALT)
    clear = found > (-EVENT_V, -EVENT_SALT)
    return near.any(axis=1) & clear.all(axis=1)


def weight(share, salt, salt_after):
    """What an error counts in a step that is this share of the longest.

    An error e over the charge dq adds e^2 dq to the mean square, so a shorter step may
    have the larger error for the same harm; to a limit, as the curve is also looked at. Where
    the salt (share above depletion, before and after) falls fast and is scarce, the voltage
    hardly tells when it runs out.
    """
    runs_out = (salt < SCARCE) & (salt - salt_after > FALL * salt)
    return np.where(runs_out, HEAVY, np.maximum(np.sqrt(share), LIGHTEST))


def next_step(dt, wrong, longest):
    """dt for the same error next time: the parabola's miss goes with dt cubed."""
    factor = 0.85 * np.maximum(wrong, 1.0e-9) ** (-1.0 / 3.0)
    return np.minimum(dt * np.minimum(np.maximum(factor, SHRINK), GROWTH), longest)


def narrowed(bracket, ends, dt, found, over):
    """(bracket, ends) once a step dt gave the events `found`; `over` is past a stop.

    The third place keeps the end that had to go, for the bend of the curve.
    """
    bracket, ends = bracket.copy(), ends.copy()
    side = over.astype(int)
    every = np.arange(len(dt))
    bracket[:, 2], ends[:, 2] = bracket[every, side], ends[every, side]
    bracket[every, side] = dt
    ends[every, side] = found
    return bracket, ends


def aim(bracket, ends):
    """The step inside the bracket at which the first event should turn zero.

    Inverse parabola through the three points (Brent 1973, chapter 4), a straight line where
    it leaves the bracket.
    """
    low, high = bracket[:, 0], bracket[:, 1]
    with np.errstate(all="ignore"):
        bent = _bent(bracket[:, :, None], ends)
        below, above = ends[:, 0], ends[:, 1]
        share = np.where(above < 0.0, below / (below - above), 1.0)
        straight = low[:, None] + share * (high - low)[:, None]
        inside = (above < 0.0) & (bent > low[:, None]) & (bent < high[:, None])
        step = np.where(inside, bent, straight).min(axis=1)
        near = NARROW * (high - low)  # nan for members that are not landing
        return np.minimum(np.maximum(step, low + near), high - near)


def _bent(at, value):
    """Where the parabola of `at` over `value` is at value zero, (members, events)."""
    (x0, x1, x2), (y0, y1, y2) = np.moveaxis(at, 1, 0), np.moveaxis(value, 1, 0)
    first = x0 * y1 * y2 / ((y0 - y1) * (y0 - y2))
    second = x1 * y0 * y2 / ((y1 - y0) * (y1 - y2))
    return first + second + x2 * y0 * y1 / ((y2 - y0) * (y2 - y1))


def is_shut(bracket):
    """Mask of members whose bracket is too narrow to hold a better answer."""
    return bracket[:, 1] - bracket[:, 0] < SHUT * bracket[:, 1]
