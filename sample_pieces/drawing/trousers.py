"""Digging trousers: a straight block of lines and arcs, as closed polylines with bulges."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from core.curve import Affine, Chain, Line, Point, Vector
from core.curve.arcs import bulge_arc
from sample_pieces.drawing.part import Edge, Part

LENGTH = 1050.0
KNEE = 620.0


@dataclass(frozen=True, slots=True)
class Step:
    """A step of the outline: from `start` with `bulge` (x towards y) to the next step's start."""

    edge: str
    start: Point
    bulge: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Cut:
    """The points one piece is drawn through: mm, the crease at x = 0, side to the right.

    `crotch` and `side.y` of the back are found so that its seams match the front's.
    """

    name: str
    centre: Point
    rise_turn: Point
    crotch: Point
    side: Point
    thigh: Point
    knee_half: float
    hem_half: float
    waist_bulge: float


@dataclass(frozen=True, slots=True)
class Block:
    """A piece with its outline as steps, and its knee line."""

    part: Part
    steps: tuple[Step, ...]
    knee: Line


FRONT = Cut(
    name="Front",
    centre=Point(-110.0, 12.0),
    rise_turn=Point(-120.0, 222.0),
    crotch=Point(-168.0, 270.0),
    side=Point(132.0, 0.0),
    thigh=Point(141.0, 330.0),
    knee_half=118.0,
    hem_half=106.0,
    waist_bulge=-0.03,
)
BACK = Cut(
    name="Back",
    centre=Point(-70.0, -26.0),
    rise_turn=Point(-104.0, 180.0),
    crotch=Point(-206.0, 276.0),
    side=Point(150.0, 0.0),
    thigh=Point(158.0, 330.0),
    knee_half=131.0,
    hem_half=118.0,
    waist_bulge=-0.03,
)
FRONT_PLACE = Affine.move(210.0, 60.0)
# Mirrored, so that the side seams face each other.
BACK_PLACE = Affine(a=-1.0, e=630.0, f=60.0)
HEIGHT = 1170.0


def blocks() -> tuple[Block, Block]:
    """Front and back on the page; both seams of the back as long as the front's."""
    return matched_blocks(FRONT, BACK)


def matched_blocks(front_cut: Cut, back_cut: Cut) -> tuple[Block, Block]:
    """Both cuts drawn on the page, the back matched to the front."""
    front = _block(front_cut)
    back = _block(_matched(front.part, back_cut))
    return _placed(front, FRONT_PLACE), _placed(back, BACK_PLACE)


def _matched(front: Part, cut: Cut) -> Cut:
    """The back with the height of its crotch and of its side waist solved for."""

    def inseam_off(drop: float) -> float:
        return _seam(_dropped(cut, drop), "inseam") - front.edge("inseam").length()

    back = _dropped(cut, _zero(inseam_off, -40.0, 40.0))

    def raised_to(y: float) -> Cut:
        return replace(back, side=Point(back.side.x, y))

    def side_off(y: float) -> float:
        return _seam(raised_to(y), "side") - front.edge("side").length()

    return raised_to(_zero(side_off, -40.0, 40.0))


def _dropped(cut: Cut, drop: float) -> Cut:
    """The cut with its whole crotch curve lower by `drop`."""
    step = Vector(0.0, drop)
    return replace(cut, rise_turn=cut.rise_turn + step, crotch=cut.crotch + step)


def _seam(cut: Cut, name: str) -> float:
    return _block(cut).part.edge(name).length()


def _zero(f: Callable[[float], float], low: float, high: float) -> float:
    """Where f is 0 between two places at which its signs differ, by halving."""
    falls = f(low) > 0.0
    for _ in range(60):
        middle = (low + high) / 2
        if (f(middle) > 0.0) is falls:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _block(cut: Cut) -> Block:
    steps = _steps(cut)
    part = Part(
        name=cut.name,
        edges=_edges(steps),
        grain=Line(Point(0.0, 130.0), Point(0.0, 950.0)),
        label=Point(-60.0, 420.0),
    )
    return Block(part, steps, Line(Point(-cut.knee_half, KNEE), Point(cut.knee_half, KNEE)))


def _steps(cut: Cut) -> tuple[Step, ...]:
    """Round the piece: waist, side, hem, inseam, rise. Each arc leaves as its neighbour ends."""
    knee, hem = Point(cut.knee_half, KNEE), Point(cut.hem_half, LENGTH)
    inner_knee, inner_hem = Point(-knee.x, KNEE), Point(-hem.x, LENGTH)
    up = (knee - hem).unit()
    hollow = _bulge(knee, up, cut.thigh)
    at_thigh = up.turned(4.0 * math.atan(hollow))
    hip = _bulge(cut.thigh, at_thigh, cut.side)
    inner = _bulge(inner_knee, (inner_knee - inner_hem).unit(), cut.crotch)
    down = (cut.rise_turn - cut.centre).unit()
    rise = _bulge(cut.rise_turn, down, cut.crotch)
    return (
        Step("waist", cut.centre, cut.waist_bulge),
        # An arc has the opposite sign when it is walked the other way.
        Step("side", cut.side, -hip),
        Step("side", cut.thigh, -hollow),
        Step("side", knee),
        Step("hem", hem),
        Step("inseam", inner_hem),
        Step("inseam", inner_knee, inner),
        Step("rise", cut.crotch, -rise),
        Step("rise", cut.rise_turn),
    )


def _bulge(start: Point, leaving: Vector, end: Point) -> float:
    """The bulge of the arc that leaves `start` along `leaving` and ends at `end`.

    Its angle is twice that between the tangent and the chord; a bulge is tan of a quarter of it.
    """
    return math.tan(leaving.angle_to(end - start) / 2)


def _edges(steps: tuple[Step, ...]) -> tuple[Edge, ...]:
    """The same outline in curves, step by step gathered into edges."""
    names = list(dict.fromkeys(s.edge for s in steps))
    ends = [*(s.start for s in steps[1:]), steps[0].start]
    drawn = [(s.edge, bulge_arc(s.start, end, s.bulge)) for s, end in zip(steps, ends, strict=True)]
    return tuple(
        Edge(name, Chain(tuple(c for edge, curves in drawn if edge == name for c in curves)))
        for name in names
    )


def _placed(block: Block, by: Affine) -> Block:
    """Moved; a mirror turns the sign of every bulge."""
    sign = math.copysign(1.0, by.determinant)
    steps = tuple(Step(s.edge, by.point(s.start), sign * s.bulge) for s in block.steps)
    return Block(block.part.mapped(by), steps, block.knee.mapped(by))
