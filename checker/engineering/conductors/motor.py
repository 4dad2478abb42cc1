"""The ampacity that the conductors of a motor must have."""

from __future__ import annotations

from checker.engineering.calculation import Calculation, Direction, Input

MOTOR_CONDUCTORS = Calculation(
    name="motor_conductors",
    title="Least ampacity of the conductors of one motor",
    inputs=(
        Input("full_load_current", "full-load current of the table", "load_current", Direction.RISES),
        Input("factor", "factor of the code", "ratio", Direction.RISES),
    ),
    gives="load_current",
    unit="A",
    formula="I = factor x full-load current",
    source="NFPA 70, 430.22",
    limits="One motor that runs for hours; the current of the table, not that of the nameplate.",
    function=lambda point: point["factor"] * point["full_load_current"],
)
"""I = 1.25 x the full-load current of the table, both in A; the factor is the code's. NFPA 70, 430.22."""
