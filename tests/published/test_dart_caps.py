"""The cap of a dart in a hem, against its closed forms.

Half intake a, depth h: the hem goes out over the mouth by a^2/h when it is straight once the
dart is shut (each side stands square to its leg), and by 2 a^2 h/(h^2 - a^2) when it is straight
lying flat (the folded layer is cut along the hem on which it comes to lie). Source: closed form;
for a 1.5 and h 10 that is 0.225 and 0.4603580563.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from core.alter.closed import Cap, cap_of, parted
from core.alter.strand import Thread
from core.curve import Line, Point
from core.piece.model import Because, Dart, Origin, Role
from tests.laws.compare import close

DEPTHS = [(15.0, 100.0), (8.0, 120.0), (25.0, 90.0)]


def cap(a: float, h: float, hem_rise: float) -> Cap:
    """Of a dart in the middle of a hem whose sides rise by `hem_rise` mm a mm beside it."""
    rise = hem_rise * (150.0 - a)
    points = [Point(150.0, -rise), Point(a, 0.0), Point(-a, 0.0), Point(-150.0, -rise)]
    run = tuple(Thread(Line(p, q), k, Origin(0, k)) for k, (p, q) in enumerate(pairwise(points)))
    mouth = (points[1], points[2])
    dart = Dart(mouth, Point(0.0, -h), Because(True, "drawn so"), on=Role.HEM, shapes=(1,))
    row = parted(run, [(dart, True)])
    (there,) = row.mouths
    found = cap_of(there, row.stretches[0], row.stretches[1], points[0])
    assert found is not None
    return found


@pytest.mark.parametrize(("a", "h"), DEPTHS)
def test_a_hem_that_is_straight_once_closed(a: float, h: float) -> None:
    close(cap(a, h, a / h).beyond_mm, a * a / h, 1e-9, "the cap")


@pytest.mark.parametrize(("a", "h"), DEPTHS)
def test_a_hem_that_is_straight_lying_flat(a: float, h: float) -> None:
    close(cap(a, h, 0.0).beyond_mm, 2.0 * a * a * h / (h * h - a * a), 1e-9, "the cap")


def test_the_tabled_values() -> None:
    """In cm, half intake 1.5 and depth 10."""
    close(cap(15.0, 100.0, 0.15).beyond_mm / 10.0, 0.225, 1e-9, "straight once closed")
    close(cap(15.0, 100.0, 0.0).beyond_mm / 10.0, 0.4603580563, 1e-9, "straight lying flat")
