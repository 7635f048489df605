"""The recognised parts of a piece found again on its altered outline."""

from __future__ import annotations

from dataclasses import replace

from core.alter.contour import step_of
from core.alter.frame import Frame
from core.alter.redo import Redone, joint_at
from core.alter.zones import Zones
from core.curve import Place, Point, Ring
from core.piece.model import Dart, Edge, Piece, Role


class Relocation:
    """Where the joints of the old ring lie on the new one.

    Above the taper points a joint keeps its point; in the hem run it went where the run's
    own joint went; the taper points are the new seam ends. A place that was cut away is
    the new end of the seam on which it lay.
    """

    def __init__(self, old: Ring, done: Redone) -> None:
        self._old = old
        self._new = done.outline.ring
        self._starts = {s.start: k for k, s in enumerate(self._new)}
        self._gone = self._cut_away(done)
        self._found: dict[tuple[int, float], Place] = {}
        self._moved = dict(done.redrawn.joints)
        self._moved[done.old.first] = done.new.first
        self._moved[done.old.last] = done.new.last

    def _cut_away(self, done: Redone) -> dict[Point, Point]:
        """Joints of the old seams that are gone, and the new end of the seam they lay on."""
        joints = [t.segment.start for t in done.old_upper[1:]]
        if joints and joints[0] in self._starts and joints[-1] in self._starts:
            return {}
        standing = [k for k, p in enumerate(joints) if p in self._starts]
        if not standing:
            return {}
        climbed, descended = joints[: standing[0]], joints[standing[-1] + 1 :]
        return {
            **dict.fromkeys(climbed, done.new.last),
            **dict.fromkeys(descended, done.new.first),
        }

    def point(self, p: Point) -> Point:
        """Where a joint's point went."""
        return self._moved.get(p, p)

    def stands(self, joint: Point) -> bool:
        """Is the joint still on the new ring, where it was?"""
        return joint in self._starts

    def place(self, place: Place) -> Place:
        """The place on the new ring of a place on the old one."""
        # An edge ends where the next begins, and a taper point is the end of one.
        key = place.index, place.t
        if key not in self._found:
            self._found[key] = self._place(place)
        return self._found[key]

    def _place(self, place: Place) -> Place:
        p = self.point(self._old.at(place))
        p = self._gone.get(p, p) if self._gone else p
        number = self._starts.get(p)
        return joint_at(self._new, p) if number is None else Place(number, 0.0)

    def edge(self, edge: Edge) -> Edge | None:
        """The edge on the new ring; None when all of it was cut away."""
        start, end = self.place(edge.start), self.place(edge.end)
        if (start, end) == (edge.start, edge.end):
            return edge
        return replace(edge, start=start, end=end) if start != end else None

    def dart(self, dart: Dart, done: Redone) -> Dart:
        """The dart: with its notch of the outline, or moved whole by the hem's map."""
        if dart.mouth_places is not None:
            a, b = (self.place(p) for p in dart.mouth_places)
            return replace(
                dart,
                mouth=(self._new.at(a), self._new.at(b)),
                apex=self.point(dart.apex),
                mouth_places=(a, b),
            )
        if dart.on is not Role.HEM:
            return dart
        step = done.redrawn.where.piece_at(dart.mouth[0].towards(dart.mouth[1], 0.5))
        return replace(
            dart,
            mouth=(step.point(dart.mouth[0]), step.point(dart.mouth[1])),
            apex=dart.apex if done.keeps_apexes else step.point(dart.apex),
        )


def relocated(piece: Piece, done: Redone) -> Piece:
    """The piece with its altered outline and every edge, dart and taper point found on it."""
    to, zones = Relocation(piece.ring, done), Zones(Frame(piece.grain.down), done)
    one_line = piece.stitching is None
    return replace(
        piece,
        outline=done.outline if one_line else piece.outline,
        stitching=None if one_line else done.outline,
        hem=done.hem,
        edges=tuple(found for e in piece.edges if (found := to.edge(e)) is not None),
        darts=tuple(to.dart(d, done) for d in piece.darts),
        contours=tuple(d.moved(step_of(zones, d)) for d in piece.contours),
    )
