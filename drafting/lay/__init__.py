"""Laying pattern pieces on a strip of cloth, so that little of it is wasted."""

from .engine import lay, too_wide
from .instances import PolygonFile, read_polygon_file
from .layout import Layout, LayProgress, Placement
from .shape import Shape

__all__ = [
    "LayProgress", "Layout", "Placement", "PolygonFile", "Shape", "lay", "read_polygon_file",
    "too_wide",
]
