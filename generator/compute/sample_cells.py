"""Made-up measurements of sixteen cells, for the sorting page; the same text stands in docs/assets/sample-cells.csv."""

from __future__ import annotations

SAMPLE = """\
# Made-up measurements for trying the sorting page; no real cells.
cell,capacity_mah,resistance_mohm,voltage_v,self_discharge_mv_per_day
A01,2356,32.5,3.707,0.4
A02,2292,30.4,3.723,0.6
A03,2479,31.7,3.715,0.5
A04,2222,33.6,3.716,0.6
A05,2219,25.8,1.62,0.4
A06,2409,30.9,3.716,0.4
A07,2409,32.2,3.702,0.8
A08,2433,34.6,3.703,0.4
A09,2347,30.7,3.718,6.8
A10,2338,28.1,3.704,0.7
A11,2303,31.7,3.715,0.2
A12,2385,34.9,3.686,0.4
A13,2370,28.5,3.716,0.5
A14,1710,88.0,3.718,0.7
A15,2517,32.1,3.711,0.2
A16,2438,29.2,3.705,0.2
"""
SERIES, PARALLEL = 3, 4
