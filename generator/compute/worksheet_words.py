"""What the worksheet says and asks, as data: Python and the page fill in the same sentences."""

from __future__ import annotations

# name: question, unit, least, most, whole number
FIELDS = {
    "series": ("Cells in series", "", 1, 200, True),
    "parallel": ("Cells in parallel", "", 1, 200, True),
    "capacity_ah": ("Capacity of one cell", "Ah", 0.001, 10000, False),
    "resistance_mohm": ("Measured resistance of one cell", "m\u03a9", 0.01, 100000, False),
    "current_max_a": ("Highest current of one cell, from its data sheet", "A", 0.001, 10000, False),
    "load": ("Load of the whole pack", "", 0.0001, 1000000, False),
    "duty_percent": ("Share of the time the load is on", "%", 0.1, 100, False),
    "ambient_c": ("Ambient temperature", "\u00b0C", -60, 100, False),
}
REFUSALS = {
    "empty": "{name} is empty: write a number from {low} to {high}.",
    "not-a-number": "{name}: '{text}' is not a number. Write it like 2 or 2.5.",
    "not-whole": "{name}: '{text}' is not a whole number.",
    "out-of-range": "{name}: {text} is outside {low} to {high}.",
    "chemistry": "Chemistry: '{text}' is not one of the almanac's.",
    "cell": "Cell: '{text}' is no published cell of this chemistry.",
    "load-kind": "Kind of load: '{text}' is none of a, w, ohm.",
}
EXCEEDED = {
    "own-current": "Each cell carries {value} A; you gave {limit} A as its highest current.",
    "no-limit": "No source states a highest discharge rate for this chemistry: take it from your cells' data sheet and type it in.",
    "rate": "Each cell carries {value} C; the stated highest discharge rate is {limit} C.",
    "cold-discharge": "{value} \u00b0C is below the lowest temperature for discharging, {limit} \u00b0C.",
    "hot-discharge": "{value} \u00b0C is above the highest temperature for discharging, {limit} \u00b0C.",
    "cold-charge": "Do not charge here: {value} \u00b0C is below the lowest temperature for charging, {limit} \u00b0C.",
    "hot-charge": "Do not charge here: {value} \u00b0C is above the highest temperature for charging, {limit} \u00b0C.",
    "model-rate": "The load asks {value} C of each cell; the cell model behind the curve is good to {limit} C, so no run time is given.",
    "model-temperature": "There is no curve near {value} \u00b0C, so no run time is given.",
    "at-once": "A full pack cannot carry this load within the curve: its voltage would fall below the cut-off, or the current leave what the model covers.",
    "volts": "A full pack has {value} V; above about {limit} V d.c. it is not safe to touch.",
    "strip": "No strip of the list carries {value} A within the rise of temperature; use copper, or more strips side by side.",
    "fuse": "No fuse fits: the load needs {value} A, and the cells may give {limit} A.",
    "passenger": "{value} Wh is above {limit} Wh: passengers need the airline's approval.",
    "passenger-approval": "{value} Wh is above {limit} Wh: not in passenger aircraft, not even with approval.",
    "small": "{value} Wh is above {limit} Wh: outside the exception for small batteries, fully regulated as cargo by air and sea.",
    "no-voltage": "There is no charge voltage to set: these cells are charged by current, with a sign of fullness or a time to end it. Never with a charger for lithium cells.",
    "never-charge": "These cells are not rechargeable: never charge them.",
}
MODELS = {
    "curves": "Discharge curves computed from a published cell model, interpolated between their rates and temperatures.",
    "rest": "Open-circuit voltage less current times resistance: 20 to 50 mV off, and too hopeful at high rates.",
    "flat": "No curve is known for this chemistry: the nominal voltage is taken as constant, so that the run time is capacity over current and nothing more.",
}
TRANSPORT = {
    "free": "A passenger may carry it in the cabin without asking.",
    "approval": "A passenger may carry it with the airline's approval only.",
    "barred": "No passenger may carry it.",
    "small": "Sent, it is within the exception for small cells and batteries: whole, tested, poles covered, marked.",
    "regulated": "Sent, it is fully regulated dangerous goods.",
    "other": "The watt-hour classes are for rechargeable lithium and sodium cells: look up the rule for this chemistry.",
    "check": "Rules as of 2022 to 2025: check the current rule of country and carrier.",
}
STOPS = {
    "cutoff": "down to the cut-off voltage",
    "charge": "until the curve ends",
    "current": "until the voltage collapses: the cells cannot give the load any more",
    "at-once": "not at all",
}
# Common practice, no published source: a fuse is run at no more than three quarters of its rating.
FUSE_SHARE = 0.75
FUSES_A = (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500)
TOUCH_V = 60.0
STRIP_RISE_K = 20.0
# width [mm], thickness [mm] of nickel strip as sold, by cross-section
STRIPS_MM = ((5, 0.1), (7, 0.1), (8, 0.1), (5, 0.15), (8, 0.15), (7, 0.2), (8, 0.2), (10, 0.2), (8, 0.3), (10, 0.3))
