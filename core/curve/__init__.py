"""Plane geometry: points, lines, cubics, chains of them, rings."""

from core.curve.affine import Affine
from core.curve.box import Box
from core.curve.chain import Chain, NearestPlace, Place, Ring, Segment
from core.curve.cubic import Cubic
from core.curve.drawn import Drawn
from core.curve.line import Line
from core.curve.nearest import Nearest
from core.curve.point import Point, Vector

__all__ = [
    "Affine",
    "Box",
    "Chain",
    "Cubic",
    "Drawn",
    "Line",
    "Nearest",
    "NearestPlace",
    "Place",
    "Point",
    "Ring",
    "Segment",
    "Vector",
]
