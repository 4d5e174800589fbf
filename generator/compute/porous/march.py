"""March all members from full to their stop, each with its own time step."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np

from . import control
from .state import State, Trial, accepted

CUTOFF = "cutoff-voltage"
DEPLETED = "electrolyte-depleted"
STALLED = "no-solution"

RESIDUAL_SHARE = 1.0  # of the tolerance: the reaction is solved from there in one update
LANDING_SHARE = 0.1  # likewise where a stop is closed in on: its voltage must not scatter
# Steps as shares of the time in which the nominal capacity passes.
FIRST_STEP = 4.0e-4
LONGEST_STEP = 0.04
SURE_STEP = 1.0e-8  # so short that only the solution has to exist
SHORTEST_STEP = 1.0e-13  # below it there is none


class Equations(Protocol):
    """What `march` steps: a cell with its discharges, as rows of numbers in time.

    A group holds what differs between members: `index`, the place in the caller's
    order, and `take(mask)`.
    """

    salt: slice  # where in a row the electrolyte concentrations are
    voltage: int  # and the terminal voltage
    initial_mol_m3: float
    depletion: float  # lowest concentration the model is shown at, share of initial

    def start(self, group: Any) -> State:
        """The full cell with the current just switched on."""

    def attempt(self, group: Any, state: State, dt: np.ndarray, residual_v: np.ndarray) -> Trial:
        """All members one step on, nothing accepted."""


@dataclass(frozen=True, slots=True, eq=False)
class Track:
    """One discharge as the time steps gave it."""

    time_s: np.ndarray
    voltage_v: np.ndarray
    lowest_salt: float  # share of the initial concentration
    stopped_because: str


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """The members still going; every array has them along its first axis."""

    group: Any
    state: State
    time: np.ndarray
    dt: np.ndarray
    events: np.ndarray  # (members, 2) at the last accepted state
    bracket: np.ndarray  # (members, 3) steps from there short of and past a stop, and a third
    ends: np.ndarray  # (members, 3, 2) events at those; past is inf if unknown
    hour: np.ndarray  # (members,) s that the nominal capacity lasts

    def take(self, keep: np.ndarray) -> Run:
        """The members that a mask picks."""
        parts = (getattr(self, name) for name in self.__slots__)
        return Run(*(p[keep] if isinstance(p, np.ndarray) else p.take(keep) for p in parts))


class Log:
    """Accepted points of all members in the order they came."""

    def __init__(self, count: int):
        self.points: list[np.ndarray] = []
        self.stops = [""] * count

    def write(self, run: Run, equations: Equations, yes):
        """Note time, voltage and salt of the members of mask `yes`."""
        points = np.empty((len(run.time), 4))
        points[:, 0], points[:, 1] = run.group.index, run.time
        points[:, 2] = run.state.rows[:, 0, equations.voltage]
        points[:, 3] = run.events[:, 1] + equations.depletion
        self.points.append(points if yes.all() else points[yes])

    def finish(self, run: Run, ended, because) -> Run:
        """Note why the members of mask `ended` stopped; the run without them."""
        if not ended.any():
            return run
        for place, why in zip(run.group.index[ended], because[ended], strict=True):
            self.stops[place] = str(why)
        return run.take(~ended)

    def tracks(self) -> tuple[Track, ...]:
        """A Track a member, in the caller's order."""
        points = np.concatenate(self.points)
        parts = [points[points[:, 0] == k] for k in range(len(self.stops))]
        return tuple(
            Track(part[:, 1], part[:, 2], float(part[:, 3].min()), why)
            for part, why in zip(parts, self.stops, strict=True)
        )


def march(equations: Equations, group: Any, hour_s, cutoff_v: float, tolerance_v: float):
    """A Track a member. `hour_s` (members,) is the nominal duration of each.

    Raises ArithmeticError where the equations have no solution at the start.
    """
    run = _begin(equations, group, np.asarray(hour_s, dtype=float), cutoff_v)
    log = Log(len(run.dt))
    log.write(run, equations, np.ones(len(run.dt), dtype=bool))
    run = log.finish(run, run.events[:, 0] <= 0.0, np.full(len(run.dt), CUTOFF))
    while len(run.dt):
        run = _advance(equations, run, log, cutoff_v, tolerance_v)
    return log.tracks()


def _begin(equations: Equations, group: Any, hour, cutoff_v: float) -> Run:
    state = equations.start(group)
    found = _events(equations, state.rows[:, 0], cutoff_v)
    zero = np.zeros(len(hour))
    return Run(group, state, zero, FIRST_STEP * hour, found, *_open_bracket(found), hour)


def _events(equations: Equations, row, cutoff_v: float):
    """(members, 2): V above the cut-off; share of salt above depletion."""
    found = np.empty((len(row), 2))
    found[:, 0] = row[:, equations.voltage] - cutoff_v
    found[:, 1] = row[:, equations.salt].min(axis=1) / equations.initial_mol_m3
    found[:, 1] -= equations.depletion
    return found


def _open_bracket(found):
    """No step known to pass a stop: (bracket, ends) for events `found`."""
    bracket, ends = np.zeros((len(found), 3)), np.empty((len(found), 3, 2))
    bracket[:, 1] = np.inf
    ends[:] = found[:, None]
    return bracket, ends


def _advance(equations: Equations, run: Run, log: Log, cutoff_v, tolerance_v) -> Run:
    dt = run.dt
    landing = np.isfinite(run.bracket[:, 1])
    residual_v = np.where(landing, LANDING_SHARE, RESIDUAL_SHARE) * tolerance_v
    trial = equations.attempt(run.group, run.state, dt, residual_v)
    found = _events(equations, trial.row, cutoff_v)
    wrong = np.abs(trial.row[:, equations.voltage] - trial.guess_v) / tolerance_v
    wrong *= control.weight(dt / (LONGEST_STEP * run.hour), run.events[:, 1], found[:, 1])
    wrong[dt < SURE_STEP * run.hour] = 0.0
    sound = trial.converged & np.isfinite(wrong) & np.isfinite(found).all(axis=1)
    wrong = np.where(sound, wrong, np.inf)
    fair = sound & (landing | (wrong <= control.WRONG_MOST))
    done = fair & (control.at_stop(found) | control.is_shut(run.bracket))
    over = fair & ~done & (found < 0.0).any(axis=1)
    yes = done | (fair & ~over & ~landing)
    run = _moved(run, trial, found, wrong, yes, over)
    log.write(run, equations, yes)
    stalled = ~yes & (run.dt < SHORTEST_STEP * run.hour)
    if not (done | stalled).any():
        return run
    low = found[:, 0] < 1.2 * control.EVENT_V
    because = np.where(stalled, STALLED, np.where(low, CUTOFF, DEPLETED))
    return log.finish(run, done | stalled, because)


def _moved(run: Run, trial, found, wrong, yes, over) -> Run:
    """The run after a trial, with the next time steps.

    Once a step has passed a stop, shorter ones from the same state close in on it.
    """
    dt = control.next_step(run.dt, wrong, LONGEST_STEP * run.hour)
    state = accepted(run.state, trial, run.dt, yes)
    time = np.where(yes, run.time + run.dt, run.time)
    events = np.where(yes[:, None], found, run.events)
    bracket, ends = _open_bracket(events)
    landing = ~yes & np.isfinite(wrong) & (over | np.isfinite(run.bracket[:, 1]))
    if landing.any():
        closer, at = control.narrowed(run.bracket, run.ends, run.dt, found, over)
        bracket = np.where(landing[:, None], closer, bracket)
        ends = np.where(landing[:, None, None], at, ends)
        dt = np.where(landing, control.aim(bracket, ends), dt)
    return Run(run.group, state, time, dt, events, bracket, ends, run.hour)
