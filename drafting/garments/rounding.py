"""Sizes rounded as a cutter takes them."""

from math import ceil


def round_to(value: float, step: float) -> float:
    """To the nearest whole `step`."""
    return round(value / step) * float(step)


def up_to(value: float, step: float) -> float:
    """Up to the next whole `step`; what is whole but for the computer's rounding stays."""
    return ceil(value / step - 1e-9) * float(step)
