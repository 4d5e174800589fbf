"""The rows of the worksheet and how its numbers look; docs/assets/worksheet-page.js fills the same cells by name."""

from __future__ import annotations

from generator.pages.format import MINUS

# Section: rows of (words, number or two numbers of a range, unit, name of the stated figure that the row rests on).
SECTIONS = (
    (
        "Volts of the pack",
        (
            ("Empty: stop here", ("empty_v",), "V", "empty"),
            ("Nominal: the label", ("nominal_v",), "V", "nominal"),
            ("Storage", ("storage_v",), "V", "storage"),
            ("Full: the charger's setting", ("full_v",), "V", "full"),
        ),
    ),
    (
        "What is in it",
        (
            ("Capacity", ("capacity_ah",), "Ah", None),
            ("Energy, also the rating for transport", ("energy_wh",), "Wh", "nominal"),
            ("Mass of the cells alone", ("mass_kg_low", "mass_kg_high"), "kg", "specific_energy"),
            ("Volume of the cells alone", ("volume_l_low", "volume_l_high"), "L", "energy_density"),
        ),
    ),
    (
        "Charging",
        (("Usual current", ("charge_a",), "A", "charge_rate"), ("Highest current", ("charge_max_a",), "A", "charge_rate_max")),
    ),
    (
        "Under the load",
        (
            ("Highest current of one cell", ("cell_a",), "A", None),
            ("The same as a rate", ("c_rate",), "C", None),
            ("Run time with the load on", ("run_hours",), "h", None),
            ("Run time with its pauses", ("total_hours",), "h", None),
            ("Delivered", ("delivered_wh",), "Wh", None),
            ("Sag of the pack half way", ("sag_v",), "V", None),
            ("Heat in the cells half way", ("heat_w",), "W", None),
        ),
    ),
    (
        "A board acts, volts per cell",
        (
            ("Over-charge", ("overcharge_low_v", "overcharge_high_v"), "V", "overcharge"),
            ("Over-charge released", ("overcharge_release_low_v", "overcharge_release_high_v"), "V", "overcharge_release"),
            ("Over-discharge", ("overdischarge_low_v", "overdischarge_high_v"), "V", "overdischarge"),
            ("Over-discharge released", ("overdischarge_release_low_v", "overdischarge_release_high_v"), "V", "overdischarge_release"),
        ),
    ),
    (
        "Fuse and strip",
        (
            ("Fuse", ("fuse_a",), "A", None),
            ("The cells may give together", ("fuse_most_a",), "A", "discharge_rate_max"),
            ("Nickel strip, width, one a parallel cell", ("strip_width_mm",), "mm", None),
            ("Nickel strip, thickness", ("strip_thickness_mm",), "mm", None),
            ("Its rise above still air", ("strip_rise_k",), "K", None),
        ),
    ),
)
NONE = "\u2013"


def shown(number: float | None, unit: str = "") -> str:
    """Return a number for the sheet: volts with two decimals, else three significant digits, whole from a hundred on."""
    if number is None:
        return NONE
    if unit == "V":
        text = f"{number:.2f}"
    elif number == int(number):
        text = f"{int(number)}"
    else:
        text = f"{number:.3g}" if abs(number) < 100 else f"{number:.0f}"
    return text.replace("-", MINUS)
