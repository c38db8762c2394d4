"""From cut pieces to a finished garment: stitches, seams, thread, time and the order of work."""

from .pace import TYPICAL, Pace, calibrate, read_pace
from .plan import Choices, Plan, SeamLine, Step, sewing_plan

__all__ = [
    "TYPICAL", "Choices", "Pace", "Plan", "SeamLine", "Step", "calibrate", "read_pace", "sewing_plan",
]
