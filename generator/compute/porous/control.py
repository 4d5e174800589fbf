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

    The end that stays has its events halved (Illinois rule), or the secant would
    creep along a bent curve.
    """
    bracket, ends = bracket.copy(), ends.copy()
    side = over.astype(int)
    every = np.arange(len(dt))
    stays = np.isfinite(bracket).all(axis=1)[:, None]
    ends[every, 1 - side] *= np.where(stays, 0.5, 1.0)
    bracket[every, side] = dt
    ends[every, side] = found
    return bracket, ends


def aim(bracket, ends):
    """The step inside the bracket at which the first event should turn zero."""
    low, high = ends[:, 0], ends[:, 1]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(high < 0.0, low / (low - high), 1.0).min(axis=1)
    share = np.minimum(np.maximum(share, 0.02), 0.98)
    return bracket[:, 0] + share * (bracket[:, 1] - bracket[:, 0])


def is_shut(bracket):
    """Mask of members whose bracket is too narrow to hold a better answer."""
    return bracket[:, 1] - bracket[:, 0] < SHUT * bracket[:, 1]
