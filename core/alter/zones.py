"""On which part of the piece a point lies: above the change, taken away, or in the hem."""

from __future__ import annotations

from enum import Enum
from functools import cached_property

import numpy as np
import shapely

from core.alter.frame import Frame
from core.alter.redo import Redone
from core.alter.strand import Strand, chain_of
from core.curve import Chain, Point, Vector
from core.kept import kept

# A point this near (mm) to the line between the taper points counts as the hem's.
AT_CHORD = 0.5
# A point this near (mm) to a seam lies on it.
ON_SEAM = 1.0
# For asking whether a point lies on the piece, in mm.
FLATTENING = 0.002
# A point within this (mm) of the flattened outline lies on it.
ON_EDGE = 0.003
# A point within this (mm) of a taper point is that taper point.
AT_TAPER = 0.5
# More than this (mm) across is not straight down.
BESIDE = 1e-6
# What lies further than this (mm) above the hem, old and new, has nothing to do with it.
CLEAR = 100.0


class Zone(Enum):
    """The parts of a piece that a change tells apart."""

    ABOVE = "stays"
    REMOVED = "taken away"
    HEM = "goes with the hem"


class Zones:
    """The parts of one piece under one change.

    The straight line between the taper points parts the hem from what is above it; when
    the piece is made shorter, what lies between that line and its new place is taken away.
    """

    def __init__(self, frame: Frame, done: Redone) -> None:
        self.frame = frame
        self.done = done

    @cached_property
    def new_run(self) -> Chain:
        return chain_of(self.done.redrawn.run)

    @cached_property
    def old_upper(self) -> Chain:
        return chain_of(self.done.old_upper)

    @cached_property
    def old_run(self) -> Chain:
        return chain_of(self.done.old_run)

    def of(self, p: Point) -> Zone:
        """The zone of a point inside the piece."""
        old, new = self.done.old, self.done.new
        if self._below(p, old.first, old.last) or self._on_old_run(p):
            return Zone.HEM
        if self.drop_at(p) < 0.0 and (
            self._below(p, new.first, new.last) or self._below_new_run(p)
        ):
            return Zone.REMOVED
        return Zone.ABOVE

    def clear_of(self, chain: Chain) -> bool:
        """Does all of a line lie well above the change? Quick, for there may be thousands."""
        down = self.frame.down
        least = self._clear_height
        return all(p.x * down.x + p.y * down.y < least for s in chain for p in s.controls)

    @cached_property
    def _clear_height(self) -> float:
        old, new = self.done.old, self.done.new
        ends = map(self.frame.height, (old.first, old.last, new.first, new.last))
        return min(*ends, self._old_top, self._new_top) - CLEAR

    def _on_old_run(self, p: Point) -> bool:
        """Does p lie on the hem itself? A hem may arch up above the line between its ends."""
        if self.frame.height(p) < self._old_top - AT_CHORD:
            return False
        return bool(self._old_run_line.distance(shapely.Point(p.x, p.y)) < AT_CHORD)

    @cached_property
    def _old_top(self) -> float:
        """No place of the old run lies higher than this: a curve stays among its controls."""
        return _top_of(self.done.old_run, self.frame.down)

    @cached_property
    def _old_run_line(self) -> shapely.LineString:
        return shapely.LineString(self.old_run.flattened(tolerance=FLATTENING))

    def _below_new_run(self, p: Point) -> bool:
        """Has a hem that arches up come above p?"""
        height = self.frame.height
        if height(p) < self._new_top:
            return False
        met = [height(self.new_run.at(at)) for at in self.new_run.meets(p, self.frame.down)]
        return bool(met) and height(p) > max(met)

    def of_outline(self, p: Point) -> Zone:
        """The zone of a point that lies on the old outline."""
        old = self.done.old
        if min(p.distance(old.first), p.distance(old.last)) < AT_TAPER:
            return Zone.HEM
        if self.old_run.nearest(p).distance < 1e-6:
            return Zone.HEM
        zone = self.of(p)
        return Zone.ABOVE if zone is Zone.HEM else zone

    def _below(self, p: Point, first: Point, last: Point) -> bool:
        return self.frame.height(p) > self._chord_height(p, first, last) - AT_CHORD

    def _chord_height(self, p: Point, first: Point, last: Point) -> float:
        heights = self.frame.height(first), self.frame.height(last)
        return _along(self._share(p, first, last), *heights)

    def _share(self, p: Point, first: Point, last: Point) -> float:
        """How far across from the first end (0) to the last (1), kept between them."""
        a, b = self.frame.width(first), self.frame.width(last)
        return min(1.0, max(0.0, (self.frame.width(p) - a) / (b - a))) if a != b else 0.5

    def share(self, p: Point) -> float:
        """How far across p lies, from the first old taper point (0) to the last (1)."""
        return self._share(p, self.done.old.first, self.done.old.last)

    def on_seam(self, p: Point) -> bool:
        """Does p lie on the old outline above the taper points?"""
        near = shapely.dwithin(self._old_upper_line, shapely.Point(p.x, p.y), ON_SEAM + FLATTENING)
        return bool(near) and self.old_upper.nearest(p).distance < ON_SEAM

    @cached_property
    def _old_upper_line(self) -> shapely.LineString:
        line = shapely.LineString(self.old_upper.flattened(tolerance=FLATTENING))
        shapely.prepare(line)
        return line

    def beyond_new_hem(self, p: Point, *, slack: float = ON_EDGE) -> bool:
        """Has p, coming from above, crossed the new hem? Not yet within `slack` mm of the edge,
        for a line along the seam itself lies on the piece."""
        if self.frame.height(p) < self._new_top:
            return False
        return not bool(shapely.dwithin(self._new_piece, shapely.Point(p.x, p.y), slack))

    @cached_property
    def _new_top(self) -> float:
        """Height of the new hem run's highest place."""
        flat = self.new_run.flattened(tolerance=FLATTENING)
        return float(np.min(flat @ np.array((self.frame.down.x, self.frame.down.y))))

    @cached_property
    def _new_piece(self) -> shapely.Polygon:
        polygon = shapely.Polygon(self.done.outline.ring.flattened(tolerance=FLATTENING))
        shapely.prepare(polygon)
        return polygon

    def drop_at(self, p: Point) -> float:
        """How far the hem moves down at the width of p, in mm."""
        old, new, height = self.done.old, self.done.new, self.frame.height
        first, last = height(new.first) - height(old.first), height(new.last) - height(old.last)
        return _along(self.share(p), first, last)

    def carried_point(self, p: Point) -> Point:
        """Where a point of the hem goes; taper points go to the new taper points."""
        old, new = self.done.old, self.done.new
        if p.distance(old.first) < AT_TAPER:
            return new.first + (p - old.first)
        if p.distance(old.last) < AT_TAPER:
            return new.last + (p - old.last)
        return self.done.redrawn.where.point(p)

    def carried_on_run(self, p: Point) -> Point:
        """Where a point on the old hem run goes, which may have been bowed as well."""
        place = self.old_run.nearest(p).place
        s = self.old_run.segments[place.index]
        a, b = self._bow(s.start), self._bow(s.end)
        carried = self.carried_point(p)
        # What goes aside was cut off there, or goes with its seam.
        if max(abs(self.frame.across.dot(v)) for v in (a, b)) > BESIDE:
            return carried
        return carried + a * (1.0 - place.t) + b * place.t

    def _bow(self, joint: Point) -> Vector:
        went = self.done.redrawn.joints.get(joint)
        return went - self.done.redrawn.where.point(joint) if went is not None else Vector(0.0, 0.0)

    def height_above_new_hem(self, p: Point) -> float:
        """How far p lies above the new hem, along the grain.

        Counted from the line between the new taper points, or from the hem itself where it
        arches up above that line.
        """
        new, height = self.done.new, self.frame.height
        met = [height(self.new_run.at(at)) for at in self.new_run.meets(p, self.frame.down)]
        return min([self._chord_height(p, new.first, new.last), *met]) - height(p)


# A drag asks for that of the same few runs in each of its frames.
@kept(most=128)
def _top_of(run: Strand, down: Vector) -> float:
    """Height of the highest of its points and handles."""
    return min(Frame(down).height(p) for t in run for p in t.segment.controls)


def _along(share: float, first: float, last: float) -> float:
    return first + share * (last - first)
