"""What a protection board costs a stored pack, and what its balancer can do."""

from __future__ import annotations

HOURS_PER_DAY = 24.0
DAYS_PER_MONTH = 365.25 / 12.0


def days_to_fall(capacity_ah: float, percent: float, board_ua: float, self_discharge_percent_month: float) -> float:
    """Return days until a share of the capacity [%] is gone by the board's current and the cells' self-discharge.

    ``capacity_ah`` is of one parallel group; the board's current flows through all groups alike.
    """
    board_a = board_ua * 1e-6
    cell_a = capacity_ah * self_discharge_percent_month / 100.0 / (DAYS_PER_MONTH * HOURS_PER_DAY)
    return capacity_ah * percent / 100.0 / (board_a + cell_a) / HOURS_PER_DAY


def balance_hours(capacity_ah: float, spread_percent: float, balance_ma: float, share_of_time: float = 1.0) -> float:
    """Return hours a balancer needs to take a difference [% of capacity] out of one group, working a share of the time."""
    return capacity_ah * spread_percent / 100.0 / (balance_ma / 1000.0 * share_of_time)


def balance_current_ma(capacity_ah: float, spread_percent_month: float, hours_month: float) -> float:
    """Return the balancing current [mA] that makes good a monthly drift within the hours it works in a month."""
    return capacity_ah * spread_percent_month / 100.0 / hours_month * 1000.0
