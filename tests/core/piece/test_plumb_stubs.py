"""A seam made longer plumb by little, above a digitised rounding, read again from the file.

Its end was taken for the last step of the rounding, and the ruled seam above it, of another
direction, was surely the one to carry on.
"""

from __future__ import annotations

import math
import random

import pytest

from core.curve import Chain, Line, Point, Ring
from core.piece.model import Kind, Shape, Taper
from core.piece.recognise import recognise

LOW = 500.0
RIGHT, RIGHT_DIRECTION = 1.5, math.radians(0.7)


def shorts(lean: float, radius: float, step: float, noise: float, stub: float) -> Taper:
    """The taper of a side seam that leans by `lean` radians, ruled down
    to a rounding in steps, with `stub` mm of plumb seam between; it is right, or not sure."""
    top = Point(300.0, 100.0)
    down = (math.sin(lean), math.cos(lean))
    fall = (LOW - stub - radius - top.y) / down[1]
    fit = Point(top.x + fall * down[0], LOW - stub - radius)
    end = Point(fit.x, fit.y + stub)
    scattered = random.Random(f"{lean} {radius} {step} {noise}")
    count = max(4, round(math.pi / 2 * radius / step))
    way = down if stub == 0.0 else (0.0, 1.0)
    first = math.atan2(way[1], way[0])
    angles = [first + k / count * (math.pi - first) for k in range(1, count + 1)]
    at, rounding = end, []
    for before, after in zip((first, *angles), angles, strict=False):
        turn = (before + after) / 2
        at = Point(at.x + step * math.cos(turn), at.y + step * math.sin(turn))
        rounding.append(at)
    noisy = [
        Point(p.x + scattered.gauss(0.0, noise), p.y + scattered.gauss(0.0, noise))
        for p in rounding[:-1]
    ]
    points = [Point(100.0, 0.0), Point(290.0, 0.0), top, fit, *([end] if stub else [])]
    points += [*noisy, rounding[-1], Point(60.0, rounding[-1].y)]
    points += [Point(30.0, 250.0), Point(80.0, 200.0), Point(98.0, 120.0)]
    grain = Chain((Line(Point(200.0, 100.0), Point(200.0, 400.0)),))
    shapes = [
        Shape(0, Ring.polygon(points), ("Shorts front",)),
        Shape(1, grain, ("grain",), kind=Kind.GRAIN),
    ]
    (piece,), _ = recognise(shapes)
    assert piece.hem is not None
    tapers = (piece.hem.first, piece.hem.last)
    taper = min(tapers, key=lambda t: piece.ring.at(t.place).distance(end))
    off = piece.ring.at(taper.place).distance(end)
    turned = abs(math.remainder(math.atan2(taper.down.y, taper.down.x) - first, math.tau))
    right = off < RIGHT and turned < RIGHT_DIRECTION
    assert right or not taper.because.sure, (
        f"{off:.1f} mm and {math.degrees(turned):.2f} degrees off, and sure: {taper.because.why}"
    )
    return taper


@pytest.mark.parametrize("stub", [5.0, 7.0, 9.0, 14.0, 20.0])
@pytest.mark.parametrize("radius", [25.0, 70.0])
@pytest.mark.parametrize("degrees", [-6.0, -2.3, 3.0, 12.0])
def test_the_plumb_end_of_a_seam_is_not_surely_part_of_the_rounding(
    degrees: float, radius: float, stub: float
) -> None:
    shorts(math.radians(degrees), radius, 3.0, 0.0, stub)


@pytest.mark.parametrize("stub", [2.0, 3.0])
@pytest.mark.parametrize("degrees", [-6.0, -2.3])
def test_where_it_turns_against_the_rounding_a_shorter_one_tells(
    degrees: float, stub: float
) -> None:
    shorts(math.radians(degrees), 70.0, 3.0, 0.0, stub)


@pytest.mark.parametrize("noise", [0.0, 0.05, 0.1])
@pytest.mark.parametrize("step", [2.0, 3.0, 5.0])
@pytest.mark.parametrize("radius", [15.0, 25.0, 70.0])
@pytest.mark.parametrize("degrees", [-6.0, 0.0, 3.0, 12.0])
def test_a_rounding_that_ends_at_a_ruled_seam_stays_sure(
    degrees: float, radius: float, step: float, noise: float
) -> None:
    taper = shorts(math.radians(degrees), radius, step, noise, 0.0)
    assert "which is no part of the rounding" not in taper.because.why
