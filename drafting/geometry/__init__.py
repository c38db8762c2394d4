"""Plane geometry: points, segments, paths, outlines and their offsets. No garment words in here."""

from .curves import QUARTER, Arc, Cubic, Line, Segment
from .offset import Allowance, cutting_line, cutting_ring
from .outline import Edge, Outline
from .path import FLAT, Path
from .pens import Pen
from .point import Point, meet, polar
from .polygon import Bounds, area, bounds

__all__ = [
    "FLAT", "QUARTER", "Allowance", "Arc", "Bounds", "Cubic", "Edge", "Line", "Outline", "Path", "Pen",
    "Point", "Segment", "area", "bounds", "cutting_line", "cutting_ring", "meet", "polar",
]
