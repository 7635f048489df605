"""The ways in which a seam is carried on below its taper point.

Straight along its taper as with a ruler; curved, its bend fading evenly to nothing;
plumb along the grain; straight until a level and plumb from there; or aimed at a point,
so that the hem gets the width asked for.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.alter.frame import Frame
from core.alter.model import SeamWay
from core.alter.seam import SLIVER, SeamEnd, carry_on
from core.alter.strand import Strand
from core.curve import Point, Vector
from core.curve.clothoid import clothoid, reached, turned
from core.errors import AlterationError

# A bend (1/mm) below this is none: the curved way is then the straight way.
NO_BEND = 1e-7
# A seam that would turn further than this (radians) while it fades is no longer that seam.
MOST_TURN = 1.0


class WidthOutOfReachError(AlterationError):
    """A seam of a given length that would have to run further across than it is long."""


@dataclass(frozen=True, slots=True)
class Reach:
    """How far one seam's end goes: mm down the grain, or mm along the seam itself."""

    mm: float
    along_seam: bool = False


@dataclass(frozen=True, slots=True)
class Course:
    """How a seam is carried on.

    `plumb_from` is the height (in the frame) from which it falls plumb; `inset` how far
    across (in the frame's width) its new end lies from the old one, where the hem's width
    is asked for. Each goes before `way`.
    """

    way: SeamWay = SeamWay.STRAIGHT
    plumb_from: float | None = None
    inset: float | None = None


def carried(seam: Strand, down: Vector, frame: Frame, reach: Reach, course: Course) -> SeamEnd:
    """The seam carried on by `reach` (not negative) from its end, where it points `down`."""
    if course.inset is not None:
        return _aimed(seam, frame, reach, course.inset)
    if course.plumb_from is not None:
        return _until_plumb(seam, down, frame, reach, course.plumb_from)
    if course.way is SeamWay.PLUMB:
        return carry_on(seam, frame.down, reach.mm)
    bend = seam[-1].segment.curvature(1.0)
    if course.way is SeamWay.CURVED and abs(bend) > NO_BEND:
        return _curved(seam, down, frame, reach, bend)
    return _straight(seam, down, frame, reach)


def _straight(seam: Strand, down: Vector, frame: Frame, reach: Reach) -> SeamEnd:
    slope = 1.0 if reach.along_seam else down.dot(frame.down)
    return carry_on(seam, down, reach.mm / slope)


def _aimed(seam: Strand, frame: Frame, reach: Reach, inset: float) -> SeamEnd:
    """Straight to the point that lies `inset` across and the reach down (or along)."""
    drop = reach.mm
    if reach.along_seam:
        square = reach.mm * reach.mm - inset * inset
        if square <= 0.0:
            raise WidthOutOfReachError("The width is out of reach.")
        drop = square**0.5
    run = frame.down * drop + frame.across * inset
    return carry_on(seam, run.unit(), run.norm)


def _until_plumb(seam: Strand, down: Vector, frame: Frame, reach: Reach, level: float) -> SeamEnd:
    """Straight down to the level, plumb for what is left of the reach."""
    slope = down.dot(frame.down)
    above = max(0.0, level - frame.height(seam[-1].segment.end))
    straight = min(above / slope, reach.mm if reach.along_seam else reach.mm / slope)
    left = reach.mm - (straight if reach.along_seam else straight * slope)
    first = carry_on(seam, down, straight) if straight > 0.0 else None
    # Rounding may leave a sliver, whose direction would be taken for the seam's.
    if left <= SLIVER and first is not None:
        return first
    second = carry_on(first.strand if first else seam, frame.down, left)
    return SeamEnd(second.strand, second.end, frame.down, straight + left)


def _curved(seam: Strand, down: Vector, frame: Frame, reach: Reach, bend: float) -> SeamEnd:
    start = seam[-1].segment.end
    length = reach.mm if reach.along_seam else _fading_length(down, frame, reach.mm, bend)
    if abs(bend) * length / 2.0 > MOST_TURN:
        raise AlterationError(
            "the seam bends too much to be carried on curved that far; carry it on straight"
        )
    curve = clothoid(start, down, bend, length)
    last = seam[-1]
    grown = (*seam, *(last.carrying(c) for c in curve))
    heading = down.turned(turned(bend, length, length))
    return SeamEnd(grown, curve[-1].end, heading, length)


def _fading_length(down: Vector, frame: Frame, drop: float, bend: float) -> float:
    """The length whose clothoid goes `drop` mm down the grain, by secant steps."""
    origin = Point(0.0, 0.0)

    def off(length: float) -> float:
        end = reached(origin, down, bend, length, length)
        return frame.height(end) - drop

    a, b = drop, drop / down.dot(frame.down)
    b = b if abs(b - a) > 1e-9 else a * 1.01
    for _ in range(60):
        fa, fb = off(a), off(b)
        if abs(fb) < 1e-10 or fa == fb:
            break
        a, b = b, b - fb * (b - a) / (fb - fa)
        if not 0.0 < b < 20.0 * drop:
            raise AlterationError(
                "the seam bends too much to be carried on curved that far; carry it on straight"
            )
    return b


def insets_for_width(
    downs: tuple[Vector, Vector],
    frame: Frame,
    drops: tuple[float, float],
    *,
    width: float,
    wanted: float,
    towards: float,
    stays: tuple[bool, bool] = (False, False),
) -> tuple[float, float]:
    """How far across each seam end goes so that a hem `width` wide becomes `wanted` wide.

    Each seam takes its share of the change in proportion to its present taper; half each
    when neither tapers; all of it where the other `stays` on its straight way (a fold).
    `towards` is +1 when the frame's width grows from first to last.
    """
    straight = [
        d.dot(frame.across) / d.dot(frame.down) * drop for d, drop in zip(downs, drops, strict=True)
    ]
    total = sum(map(abs, straight))
    shares = [abs(t) / total for t in straight] if total > 1e-9 else [0.5, 0.5]
    change = towards * (wanted - width)
    match stays:
        case True, _:
            return straight[0], straight[0] + change
        case _, True:
            return straight[1] - change, straight[1]
    return -shares[0] * change, shares[1] * change
