"""Contour darts under a change: they stay, go with the hem whole, or forbid the change."""

from __future__ import annotations

from enum import Enum

import shapely

from core.alter.simple import TOLERANCE
from core.alter.zones import Zone, Zones
from core.curve import Vector
from core.piece.model import ContourDart


class Lie(Enum):
    """How a contour dart lies to the change."""

    ABOVE = "stays"
    HEM = "goes with the hem"
    LOST = "would reach below the new hem"


def lie(zones: Zones, dart: ContourDart) -> Lie:
    """Where the dart's middle lies decides: in the hem it goes along, above it stays.

    One that stays must lie above the new hem with all of its four points.
    """
    if zones.of(dart.centre) is Zone.HEM:
        return Lie.HEM
    if any(zones.beyond_new_hem(p) for p in dart.corners) or _crossed(zones, dart):
        return Lie.LOST
    return Lie.ABOVE


def _crossed(zones: Zones, dart: ContourDart) -> bool:
    """Does the new hem, arching up, run through between the dart's points?"""
    run = shapely.LineString(zones.new_run.flattened(tolerance=TOLERANCE))
    return bool(run.intersects(shapely.Polygon([(p.x, p.y) for p in dart.corners])))


def step_of(zones: Zones, dart: ContourDart) -> Vector:
    """How far the dart goes: as the hem does at its middle, or not at all."""
    at = dart.centre
    return zones.carried_point(at) - at if zones.of(at) is Zone.HEM else Vector(0.0, 0.0)
