"""States in time, and the variable-step BDF2 that joins them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .members import taken

LONG_AGO_S = 1.0e12  # age of the states before the first: constant history


@dataclass(frozen=True, slots=True, eq=False)
class State:
    """Members' last three accepted states; axis 1 goes back in time."""

    age: np.ndarray  # (members, 3) s, 0 first
    rows: np.ndarray  # (members, 3, length of a row)

    take = taken


@dataclass(frozen=True, slots=True, eq=False)
class Trial:
    """The outcome of an attempted step."""

    row: np.ndarray  # (members, length of a row)
    guess_v: np.ndarray  # (members,) voltage that the parabola foretold
    converged: np.ndarray  # (members,) bool


def begun(row: np.ndarray) -> State:
    """The state of members that have rested at `row` (members, length) for ever."""
    age = np.tile([0.0, -LONG_AGO_S, -2.0 * LONG_AGO_S], (len(row), 1))
    return State(age, np.repeat(row[:, None], 3, axis=1))


def accepted(state: State, trial: Trial, dt: np.ndarray, yes: np.ndarray) -> State:
    """State in which the members of mask `yes` have moved on by their trial."""
    age = np.zeros_like(state.age)
    age[:, 1:] = state.age[:, :2] - dt[:, None]
    rows = np.concatenate([trial.row[:, None], state.rows[:, :2]], axis=1)
    if yes.all():
        return State(age, rows)
    return State(
        np.where(yes[:, None], age, state.age), np.where(yes[:, None, None], rows, state.rows)
    )


def bdf_weights(age, dt):
    """BDF2 rate (members,) 1/s, and weights (members, 2, 3) of the three states.

    First row: the parabola through them, at dt. Second row: what BDF2 takes from the
    past, so that rate * new - old is the time derivative at dt.
    """
    a, b = -age[:, 1], -age[:, 2]
    weights = np.zeros((len(dt), 2, 3))
    weights[:, 0, 0] = (dt + a) * (dt + b) / (a * b)
    weights[:, 0, 1] = -dt * (dt + b) / (a * (b - a))
    weights[:, 0, 2] = dt * (dt + a) / (b * (b - a))
    weights[:, 1, 0] = 1.0 / dt + 1.0 / a
    weights[:, 1, 1] = -dt / (a * (dt + a))
    return 1.0 / dt + 1.0 / (dt + a), weights
