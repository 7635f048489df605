"""Curves and bulges whose lengths, radii and areas are known in closed form."""

from __future__ import annotations

import math

import numpy as np
import pytest

from core.curve import Cubic, Line, Point, Ring
from core.curve.arcs import bulge_arc


def close(got: float, wanted: float, tolerance: float, what: str) -> None:
    """Fail with wanted, got and tolerance unless |got - wanted| <= tolerance."""
    assert abs(got - wanted) <= tolerance, (
        f"{what}: wanted {wanted!r}, got {got!r}, tolerance {tolerance!r}"
    )


def cubic(*xy: float) -> Cubic:
    return Cubic(*(Point(x, y) for x, y in zip(xy[::2], xy[1::2], strict=True)))


def test_length_of_a_parabola() -> None:
    """y = x^2 over 0..1. Closed form: sqrt(5)/2 + asinh(2)/4."""
    wanted = math.sqrt(5) / 2 + math.asinh(2) / 4
    close(wanted, 1.478942857544597, 1e-15, "the closed form itself")
    close(cubic(0, 0, 1 / 3, 0, 2 / 3, 1 / 3, 1, 1).length(), wanted, 1e-12, "length")


def test_length_of_the_cubic_with_four_thirds() -> None:
    """Speed 1 + t^2. Closed form: s(t) = t + t^3/3, so 4/3 in all."""
    c = cubic(0, 0, 1 / 3, 0, 2 / 3, 1 / 3, 2 / 3, 1)
    close(c.length(), 4 / 3, 1e-12, "length")
    for t in (0.0, 0.1, 0.5, 0.9, 1.0):
        close(c.length_to(t), t + t**3 / 3, 1e-12, f"length to {t}")
        close(c.at_length(t + t**3 / 3), t, 1e-9, f"t at the length to {t}")


def test_the_cubic_with_four_thirds_ends_vertical() -> None:
    """Closed form: the derivative at 1 is (0, 2)."""
    way = cubic(0, 0, 1 / 3, 0, 2 / 3, 1 / 3, 2 / 3, 1).tangent(1.0)
    close(way.x, 0.0, 1e-15, "x of the tangent")
    close(way.y, 1.0, 1e-15, "y of the tangent")


def test_area_of_the_cubic_with_four_thirds_to_its_chord() -> None:
    """Closed form: 1/5."""
    c = cubic(0, 0, 1 / 3, 0, 2 / 3, 1 / 3, 2 / 3, 1)
    close(Ring((c, Line(c.end, c.start))).area(), 1 / 5, 1e-15, "area to the chord")


def test_length_without_a_start_handle() -> None:
    """The semicubical y = x^(3/2) over 0..1. Closed form: (13 sqrt(13) - 8) / 27."""
    wanted = (13 * math.sqrt(13) - 8) / 27
    close(wanted, 1.439709873371550, 1e-15, "the closed form itself")
    close(cubic(0, 0, 0, 0, 1 / 3, 0, 1, 1).length(), wanted, 1e-12, "length")


def test_length_of_eight_thirds() -> None:
    """Closed form: 8/3."""
    close(cubic(0, 0, 4 / 3, 0, 2, 2 / 3, 2, 4 / 3).length(), 8 / 3, 1e-12, "length")


QUARTER = cubic(1, 0, 1, 0.5522847498, 0.5522847498, 1, 0, 1)


def test_radius_of_a_quarter_circle_by_one_cubic() -> None:
    """k = 0.5522847498. Closed form: the radius is at most 2.7253e-4 too large."""
    p = QUARTER.points(np.linspace(0.0, 1.0, 20001))
    off = float(np.hypot(p[:, 0], p[:, 1]).max()) - 1.0
    close(off, 2.7253e-4, 5e-9, "largest radial error")


def test_length_of_a_quarter_circle_by_one_cubic() -> None:
    """k = 0.5522847498. Integration: a share of 1.4030e-4 (2.2037e-4 at radius 1) too long."""
    off = QUARTER.length() - math.pi / 2
    close(off, 2.2037e-4, 5e-9, "length beyond pi/2")


BULGES = pytest.mark.parametrize(
    ("chord", "bulge", "sagitta", "radius", "arc"),
    [
        (6.0, 1 / 3, 1.0, 5.0, 6.43501108793284),
        (8.0, 1 / 2, 2.0, 5.0, 9.27295218001612),
        (24.0, 2 / 3, 8.0, 13.0, 30.5761353844735),
    ],
)


@BULGES
@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_a_bulge_has_its_sagitta_radius_and_arc(
    *, chord: float, bulge: float, sagitta: float, radius: float, arc: float, sign: float
) -> None:
    """DXF reference, group code 42: bulge = tan(angle / 4); closed forms of right triangles."""
    close(radius * 4 * math.atan(bulge), arc, 1e-13, "the closed form itself")
    segments = bulge_arc(Point(0, 0), Point(chord, 0), sign * bulge)
    # Off the circle by 1e-5 at most, so too long by that times the angle at most.
    close(sum(s.length() for s in segments), arc, 1e-5 * arc / radius, "arc length")
    p = np.concatenate([s.points(np.linspace(0.0, 1.0, 201)) for s in segments])
    close(float(np.abs(p[:, 1]).max()), sagitta, 2e-5, "sagitta")
    centre_y = sign * (radius - sagitta)
    r = np.hypot(p[:, 0] - chord / 2, p[:, 1] - centre_y)
    close(float(np.abs(r - radius).max()), 0.0, 1.1e-5, "distance from the circle")


def test_a_positive_bulge_is_counter_clockwise_with_y_up() -> None:
    """DXF reference, group code 42: from (0, 0) to (6, 0) it passes below, at y = -1."""
    arcs = bulge_arc(Point(0, 0), Point(6, 0), 1 / 3)
    lowest = min(s.bounds().y0 for s in arcs)
    close(lowest, -1.0, 2e-5, "lowest y, y up")


def test_a_bulge_of_one_is_a_half_circle() -> None:
    """DXF reference, group code 42: 1 is a half circle; length pi/2 times the chord."""
    arcs = bulge_arc(Point(0, 0), Point(10, 0), 1.0)
    close(sum(s.length() for s in arcs), 5 * math.pi, 1e-5, "length")
    close(min(s.bounds().y0 for s in arcs), -5.0, 2e-5, "sagitta")
