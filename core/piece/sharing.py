"""Which piece each loose shape lies on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray

from core.curve import Point, Ring
from core.curve.many import hulls
from core.piece.model import Outline, Shape
from core.piece.sizes import Sizes
from core.piece.too_much import MOST_SHARED, within

# Marks may stick out of the outline by this much (mm): notch ticks, dart holes.
STICKS_OUT = 12.0
# Of more points than this it is sooner told together whether an outline holds them.
MANY = 8


@dataclass
class Candidate:
    """A closed outline with its polygon, while pieces are sorted out."""

    outline: Outline
    shapes: list[Shape]
    polygon: shapely.Polygon
    size: str = ""
    stitching: Outline | None = None
    children: list[Candidate] = field(default_factory=list)


def shared_out(
    tops: Sequence[Candidate], loose: Sequence[Shape], sizes: Sizes
) -> list[list[Shape]]:
    """Each loose shape to the piece on which it lies; those on none are left aside.

    One that has no size lies on the piece of each size.
    """
    groups = [{s.group for s in t.shapes if s.group is not None} for t in tops]
    known = {t.size for t in tops}
    out: list[list[Shape]] = [[] for _ in tops]
    for s, on in zip(loose, _homes(tops, loose), strict=True):
        if not on:
            continue
        own = {sizes[s]} & known - {""} or known
        homes = [k for k in on if tops[k].size in own and not _around(s, tops[k])]
        for size in known if homes else ():
            mine = [k for k in homes if tops[k].size == size]
            same = [k for k in mine if s.group in groups[k]]
            for k in (same or (mine if len(mine) < 2 else _strictly(mine, tops, s)))[:1]:
                out[k].append(s)
    return out


def _strictly(homes: Sequence[int], tops: Sequence[Candidate], shape: Shape) -> Sequence[int]:
    """Those of the pieces on which the shape lies without sticking out; all if there are none."""
    at = shapely.Point(_middle(shape).x, _middle(shape).y)
    return [k for k in homes if tops[k].polygon.contains(at)] or homes


def _homes(tops: Sequence[Candidate], loose: Sequence[Shape]) -> list[list[int]]:
    """The pieces on which each shape lies, or out of which it sticks a little."""
    found: list[list[int]] = [[] for _ in loose]
    if not tops or not loose:
        return found
    polygons = np.array([t.polygon for t in tops])
    grown = shapely.bounds(polygons) + STICKS_OUT * np.array((-1.0, -1.0, 1.0, 1.0))
    # Most of a sheet lies nowhere near: its middle need not be known so exactly.
    tree, reaches = shapely.STRtree(shapely.box(*grown.T)), _reaches(loose).T
    boxes = shapely.box(*reaches)
    near = np.unique(np.concatenate([f for f, _ in within(tree, boxes, most=MOST_SHARED)]))
    if not len(near):
        return found
    middles = shapely.points([(p.x, p.y) for p in (_middle(loose[k]) for k in near.tolist())])
    met = list(within(tree, middles, most=MOST_SHARED))
    points, homes = (np.concatenate(rows) for rows in zip(*met, strict=True))
    # Made ready, an outline answers for thousands of points at once.
    shapely.prepare(polygons[np.bincount(homes, minlength=len(tops)) > MANY])
    on = shapely.dwithin(polygons[homes], middles[points], STICKS_OUT)
    for k, s in sorted(zip(homes[on].tolist(), near[points[on]].tolist(), strict=True)):
        found[s].append(k)
    return found


def _reaches(shapes: Sequence[Shape]) -> NDArray[np.float64]:
    """Lowest x and y, highest x and y of what each is drawn with."""
    points = [(k, s.geometry) for k, s in enumerate(shapes) if isinstance(s.geometry, Point)]
    lines = [(k, s.geometry) for k, s in enumerate(shapes) if not isinstance(s.geometry, Point)]
    out = np.empty((len(shapes), 4))
    out[[k for k, _ in lines]] = hulls([g for _, g in lines])
    if points:
        out[[k for k, _ in points]] = [(p.x, p.y, p.x, p.y) for _, p in points]
    return out


def _around(shape: Shape, top: Candidate) -> bool:
    """Is it a closed line around the whole piece?"""
    if not isinstance(shape.geometry, Ring):
        return False
    return shape.geometry.bounds().holds(top.outline.ring.bounds(), margin=-STICKS_OUT)


def _middle(shape: Shape) -> Point:
    if isinstance(shape.geometry, Point):
        return shape.geometry
    return shape.geometry.bounds().centre
