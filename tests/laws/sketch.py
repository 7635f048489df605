"""Pattern pieces drawn from a handful of numbers, with all that is true of them by construction.

A sketch is drawn with the waist up and the grain straight down the page (y down, mm): the
outline runs from the first taper point along the hem to the last, up that seam, back over
the top, and down the other seam. Nothing here goes through recognition.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from itertools import pairwise

from core.curve import Chain, Cubic, Line, Place, Point, Ring, Segment, Vector
from core.piece.direction import end_direction
from core.piece.model import (
    Because,
    Dart,
    Edge,
    Grain,
    HemRun,
    Mark,
    Origin,
    Outline,
    Piece,
    Role,
    Taper,
)
from tests.laws.hem_shapes import HemKind, HemShape, scattered
from tests.laws.marked import DOWN, GRAIN_KEY, marks_on
from tests.laws.outer import cutting_line

SURE = Because(True, "drawn so")
OUTLINE, STITCHING = 0, 1
# Ends that are this near (mm) are one.
ROUNDING = 1e-9


class Garment(Enum):
    """The shapes of pieces that are drawn."""

    LEG = "leg"
    SKIRT = "skirt"
    SLEEVE = "sleeve"


class SeamStyle(Enum):
    """How a seam runs down to its taper point."""

    STRAIGHT = "straight"
    CURVED = "curved"
    CURVED_THEN_STRAIGHT = "curved, then straight"


@dataclass(frozen=True)
class SeamPlan:
    """One seam: its lean outwards going down (radians), its bend, its hem corner's radius.

    Or in place of the rounded corner a vent: how far out (in, when negative) and how deep, mm.
    """

    lean: float
    style: SeamStyle = SeamStyle.STRAIGHT
    bend: float = 0.0
    radius: float = 0.0
    vent: tuple[float, float] | None = None


@dataclass(frozen=True)
class Sketch:
    """A piece in numbers. `hem_angles` turn a curved hem off its chord at either end; None
    is a straight hem, unless it has a `shape`. `step` is the length of a digitised line, and
    `noise` how far its points scatter; 0 draws true curves."""

    garment: Garment
    height: float
    hem_width: float
    left: SeamPlan
    right: SeamPlan
    hem_slope: float = 0.0
    hem_angles: tuple[float, float] | None = None
    hem_parts: int = 1
    waist_darts: int = 0
    hem_darts: int = 0
    step: float = 0.0
    allowance: float = 0.0
    hem_allowance: float = 0.0
    with_marks: bool = True
    shape: HemShape | None = None
    noise: float = 0.0

    @property
    def straight_at_tapers(self) -> bool:
        """Do both fit lines run straight into their taper points?"""
        return SeamStyle.CURVED not in (self.left.style, self.right.style)

    @property
    def upright(self) -> bool:
        """Does its top stand above the middle of its hem, where the marks are?"""
        seams = self._drawing.seams
        left, right = sorted((seams[0][0].start.x, seams[1][0].start.x))
        reach = 0.2 * self.hem_width
        return left < -reach and right > reach

    def allowance_of(self, role: Role) -> float:
        """The allowance along an edge; a hem that is rounded into its seam has the seam's."""
        rounded = self.left.radius > 0.0 or self.right.radius > 0.0
        return self.hem_allowance if role is Role.HEM and not rounded else self.allowance

    def piece(self) -> Piece:
        """The piece with its true taper points, edges, roles, darts and marks."""
        return self._drawing.piece()

    @cached_property
    def _drawing(self) -> _Drawing:
        return _Drawing(self)


STRAIGHT_PART = 110.0
DART_LENGTH = 90.0
DART_HALF = 11.0


def at_angle(angle: float) -> Vector:
    """Unit vector that leans `angle` radians from straight down towards +x."""
    return Vector(math.sin(angle), math.cos(angle))


class _Drawing:
    """Works a sketch out, stretch by stretch, in outline order."""

    def __init__(self, sketch: Sketch) -> None:
        self.sketch = sketch
        self.downs = (at_angle(-sketch.left.lean), at_angle(sketch.right.lean))
        half, slope = sketch.hem_width / 2, math.tan(sketch.hem_slope)
        self.corners = (
            Point(-half, sketch.height - half * slope),
            Point(half, sketch.height + half * slope),
        )
        chord = (self.corners[1] - self.corners[0]).unit()
        off = sketch.hem_angles or (0.0, 0.0)
        self.waist_dart_feet: list[tuple[Point, Point]] = []
        self.hem_ways = (chord.turned(off[0]), chord.turned(-off[1]))
        self._draw()

    def _draw(self) -> None:
        first, self.taper_first, hem_start = self._rounding(0)
        last, self.taper_last, hem_end = self._rounding(1)
        hem, self.hem_dart_feet = self._hem(hem_start, hem_end)
        self.run = [*self._digitised(first), *hem, *_back(self._digitised(last))]
        self.seams = (
            self._seam(self.sketch.left, self.taper_first, self.downs[0], -1.0),
            self._seam(self.sketch.right, self.taper_last, self.downs[1], 1.0),
        )
        if self.sketch.noise:
            # Where points scatter, a seam goes where its end is going by all that is known of it.
            self.downs = (end_direction(self.seams[0]), end_direction(self.seams[1]))
        self.top = self._top(self.seams[1][0].start, self.seams[0][0].start)

    def _rounding(self, k: int) -> tuple[list[Segment], Point, Point]:
        """The arc from the taper point to where the hem proper begins; both ends."""
        plan = (self.sketch.left, self.sketch.right)[k]
        corner, down = self._corner(k), self.downs[k]
        if plan.vent is not None:
            wide, deep = plan.vent
            start = corner.moved(down, -deep / down.y)
            aside = start.moved(Vector(-1.0 if k == 0 else 1.0, 0.0), wide)
            low = aside.moved(DOWN, deep)
            return [Line(start, aside), Line(aside, low)], start, low
        if plan.radius == 0.0:
            return [], corner, corner
        way = self.hem_ways[k] if k == 0 else -self.hem_ways[k]
        turn = abs(down.angle_to(way))
        back = plan.radius * math.tan(turn / 2)
        start, end = corner.moved(down, -back), corner.moved(way, back)
        handle = 4 / 3 * math.tan(turn / 4) * plan.radius
        arc = Cubic(start, start.moved(down, handle), end.moved(way, -handle), end)
        return [arc], start, end

    def _corner(self, k: int) -> Point:
        """Where a seam would end in a plain corner; higher on the short side of a step."""
        shape = self.sketch.shape
        if k == 0 or shape is None or shape.kind is not HemKind.STEP:
            return self.corners[k]
        down = self.downs[k]
        return self.corners[k].moved(down, -shape.deep / down.y)

    def _hem(self, start: Point, end: Point) -> tuple[list[Segment], list[tuple[Point, Point]]]:
        if self.sketch.shape is not None:
            return self._digitised(self._shaped(self.sketch.shape, start, end)), []
        whole = self._hem_line(start, end)
        parts: list[Segment] = []
        feet = []
        done = 0.0
        for k in range(self.sketch.hem_darts):
            middle = (k + 1) / (self.sketch.hem_darts + 1)
            half = DART_HALF / start.distance(end)
            mouth = whole.at(middle - half), whole.at(middle + half)
            parts += self._digitised(self._parted(whole.part(done, middle - half)))
            apex = _apex(mouth, up=True)
            parts += [Line(parts[-1].end, apex), Line(apex, mouth[1])]
            feet.append((parts[-2].start, mouth[1]))
            done = middle + half
        rest = whole.part(done, 1.0)
        if parts:
            rest = _from(rest, parts[-1].end)
        return [*parts, *self._digitised(self._parted(rest))], feet

    def _shaped(self, shape: HemShape, start: Point, end: Point) -> list[Segment]:
        if shape.kind is HemKind.STEP:
            end = end.moved(DOWN, shape.deep)
        return shape.segments(start, end, self.hem_ways)

    def _hem_line(self, start: Point, end: Point) -> Segment:
        if self.sketch.hem_angles is None:
            return Line(start, end)
        third = start.distance(end) / 3
        first, last = self.hem_ways
        return Cubic(start, start.moved(first, third), end.moved(last, -third), end)

    def _parted(self, s: Segment) -> list[Segment]:
        """The hem drawn in several parts of one curve."""
        out: list[Segment] = []
        for left in range(self.sketch.hem_parts - 1, 0, -1):
            part, s = s.split(1.0 / (left + 1))
            out.append(part)
        return [*out, s]

    def _seam(self, plan: SeamPlan, taper: Point, down: Vector, outwards: float) -> list[Segment]:
        """From its top down to the taper point."""
        inner = self.sketch.garment is Garment.LEG and outwards < 0.0
        tall = self.sketch.height * (0.72 if inner else 1.0)
        reach = tall - (self.sketch.height - taper.y)
        if plan.style is SeamStyle.STRAIGHT:
            line: list[Segment] = [Line(taper.moved(down, -reach / down.y), taper)]
            return self._digitised(line)
        end = taper
        if plan.style is SeamStyle.CURVED_THEN_STRAIGHT:
            end = taper.moved(down, -min(STRAIGHT_PART, reach / 2) / down.y)
        left = reach - (taper.y - end.y)
        chord = at_angle(outwards * (plan.lean + plan.bend))
        start = end.moved(chord, -left / chord.y)
        upper = at_angle(outwards * (plan.lean + 2 * plan.bend))
        third = left / 3
        curve = Cubic(start, start.moved(upper, third), end.moved(down, -third), end)
        rest = [Line(end, taper)] if end != taper else []
        return self._digitised([curve, *rest])

    def _top(self, start: Point, end: Point) -> list[tuple[Role, list[Segment]]]:
        if self.sketch.garment is Garment.SKIRT:
            return [(Role.WAIST, self._waist(start, end))]
        if self.sketch.garment is Garment.SLEEVE:
            return [(Role.CAP, self._digitised(_cap(start, end)))]
        waist_end = Point(end.x + 0.22 * (start.x - end.x), start.y + 6.0)
        drop = end.y - waist_end.y
        rise = Cubic(
            waist_end,
            waist_end.moved(at_angle(0.05), 0.6 * drop),
            Point(end.x + 0.16 * (start.x - end.x), end.y - 2.0),
            end,
        )
        waist = self._waist(start, waist_end)
        return [(Role.WAIST, waist), (Role.RISE, self._digitised([rise]))]

    def _waist(self, start: Point, end: Point) -> list[Segment]:
        if self.sketch.waist_darts == 0:
            dip = Vector(0.0, 0.05 * start.distance(end))
            bow = Cubic(start, start.towards(end, 0.3) + dip, start.towards(end, 0.7) + dip, end)
            return self._digitised([bow])
        at, parts = start, []
        for k in range(self.sketch.waist_darts):
            middle = start.towards(end, (k + 1) / (self.sketch.waist_darts + 1))
            way = (end - start).unit()
            mouth = middle.moved(way, -DART_HALF), middle.moved(way, DART_HALF)
            apex = _apex(mouth, up=False)
            parts += self._digitised([Line(at, mouth[0])])
            parts += [Line(mouth[0], apex), Line(apex, mouth[1])]
            self.waist_dart_feet.append(mouth)
            at = mouth[1]
        return [*parts, *self._digitised([Line(at, end)])]

    def _digitised(self, segments: Sequence[Segment]) -> list[Segment]:
        if self.sketch.step == 0.0:
            return list(segments)
        out: list[Segment] = []
        for s in segments:
            count = max(1, math.ceil(s.length() / self.sketch.step))
            points = [s.start, *(s.at(k / count) for k in range(1, count)), s.end]
            points = scattered(points, self.sketch.noise, len(out))
            out += [Line(a, b) for a, b in pairwise(points)]
        return out

    def piece(self) -> Piece:
        stretches = self._stretches()
        ring = Ring(_meeting([s for _, part in stretches for s in part]))
        edges = tuple(_edges(stretches, len(ring)))
        hem = HemRun(
            Taper(edges[0].start, self.downs[0], SURE), Taper(edges[0].end, self.downs[1], SURE)
        )
        stitched = self.sketch.allowance > 0.0
        key = STITCHING if stitched else OUTLINE
        sewn = Outline(ring, tuple(Origin(key, k) for k in range(len(ring))))
        outline, cutting_hem = sewn, None
        if stitched:
            outer, cutting_hem = cutting_line(self._allowances(stretches), hem, self.downs)
            outline = Outline(outer, tuple(Origin(OUTLINE, k) for k in range(len(outer))))
        return Piece(
            key=0,
            name=f"{self.sketch.garment.value} front",
            outline=outline,
            grain=Grain(DOWN, SURE, GRAIN_KEY if self.sketch.with_marks else None),
            edges=edges,
            hem=hem,
            stitching=sewn if stitched else None,
            cutting_hem=cutting_hem,
            darts=tuple(self._darts(ring)),
            marks=tuple(self._marks(ring)) if self.sketch.with_marks else (),
        )

    def _stretches(self) -> list[tuple[Role, list[Segment]]]:
        """The whole outline in order, edge by edge, joined exactly."""
        left, right = {
            Garment.LEG: (Role.INSEAM, Role.SIDE),
            Garment.SKIRT: (Role.CENTRE_FRONT, Role.SIDE),
            Garment.SLEEVE: (Role.UNDERARM, Role.UNDERARM),
        }[self.sketch.garment]
        up, down = _back(self.seams[1]), list(self.seams[0])
        return [(Role.HEM, self.run), (right, up), *self.top, (left, down)]

    def _allowances(
        self, stretches: Sequence[tuple[Role, list[Segment]]]
    ) -> list[tuple[float, list[Segment]]]:
        return [(self.sketch.allowance_of(role), part) for role, part in stretches]

    def _darts(self, ring: Ring) -> list[Dart]:
        numbers = {s.start: k for k, s in enumerate(ring)}
        feet = [(m, True) for m in self.hem_dart_feet]
        feet += [(m, False) for m in self.waist_dart_feet]
        return [
            Dart(
                mouth,
                ring.segments[numbers[mouth[0]]].end,
                SURE,
                on=Role.HEM if in_hem else Role.WAIST,
                mouth_places=(Place(numbers[mouth[0]], 0.0), Place(numbers[mouth[1]], 0.0)),
            )
            for mouth, in_hem in feet
        ]

    def _marks(self, ring: Ring) -> list[Mark]:
        top = Chain(tuple(s for _, part in self.top for s in part))
        return marks_on(ring, top, (self.taper_first, self.taper_last), Chain(tuple(self.run)))


def _back(segments: Sequence[Segment]) -> list[Segment]:
    return [s.reversed() for s in reversed(segments)]


def _from(s: Segment, start: Point) -> Segment:
    return Line(start, s.end) if isinstance(s, Line) else Cubic(start, s.c1, s.c2, s.end)


def _meeting(segments: Sequence[Segment]) -> tuple[Segment, ...]:
    """Each from exactly where the one before ends, which rounding may have missed."""
    ends = (segments[-1].end, *(s.end for s in segments[:-1]))
    pairs = zip(ends, segments, strict=True)
    return tuple(_from(s, end) if s.start.distance(end) < ROUNDING else s for end, s in pairs)


def _apex(mouth: tuple[Point, Point], *, up: bool) -> Point:
    """Square above (or below) the middle of the mouth, so that the legs are equal."""
    way = (mouth[1] - mouth[0]).unit().square()
    if (way.y < 0.0) != up:
        way = -way
    return mouth[0].towards(mouth[1], 0.5).moved(way, DART_LENGTH)


def _cap(start: Point, end: Point) -> list[Segment]:
    width = start.x - end.x
    crest = Point((start.x + end.x) / 2, min(start.y, end.y) - 0.42 * width)
    left, right = Vector(-0.28 * width, 0.0), Vector(0.28 * width, 0.0)
    return [
        Cubic(start, start + Vector(-0.2 * width, -4.0), crest + right, crest),
        Cubic(crest, crest + left, end + Vector(0.2 * width, -4.0), end),
    ]


def _edges(stretches: Sequence[tuple[Role, list[Segment]]], size: int) -> list[Edge]:
    out, at = [], 0
    for role, part in stretches:
        start, at = at, at + len(part)
        out.append(Edge(role, Place(start, 0.0), Place(at % size, 0.0), SURE))
    return out
