"""The page grows with what was altered; the scale never changes."""

from __future__ import annotations

import pytest

from core.curve import Box, Vector
from core.files.svg import splice_svg
from tests.core.files.svg.build import edit, read, svg

BODY = '<path d="M10 10h20v20z"/><path id="other" d="M1 1h8v8z"/>'


def shifted(data: bytes, step: Vector, **options: float) -> bytes:
    reading = read(data, **options)
    old = reading.shapes[0].geometry
    new = [(type(s)(*(p + step for p in s.controls)),) for s in old]
    return splice_svg(reading.source, data, {0: edit(reading, 0, new)})


ROOTS = [
    'width="50mm" height="40mm" viewBox="0 0 50 40"',
    'width="5cm" height="4cm" viewBox="-3 -2 50 40"',
    'width="50mm" height="40mm" viewBox="0 0 25 40" preserveAspectRatio="xMaxYMid"',
    'width="50mm" height="40mm" viewBox="0 0 25 40" preserveAspectRatio="none"',
    'width="500px" height="400px"',
    'width="500px" height="400px" viewBox="0 0 50 40"',
    'width="50mm" viewBox="0 0 50 40"',
]


@pytest.mark.parametrize("root", ROOTS)
@pytest.mark.parametrize(
    "step", [Vector(300, 0), Vector(0, 300), Vector(-300, -200), Vector(0.1, 0)]
)
def test_a_page_grows_at_the_same_scale(root: str, step: Vector) -> None:
    data = svg(BODY, root=root)
    before = read(data)
    out = shifted(data, step)
    after = read(out)
    assert after.unit.mm_per_unit == pytest.approx(before.unit.mm_per_unit, rel=1e-12)
    was, now = (r.shapes[1].geometry for r in (before, after))
    for a, b in zip(was, now, strict=True):
        ran, runs = a.end - a.start, b.end - b.start
        assert (runs.x, runs.y) == pytest.approx((ran.x, ran.y), abs=1e-9)
    width, height = after.source.page.size
    box = after.shapes[0].geometry.bounds()
    assert Box(0, 0, width, height).holds(box, margin=1e-9), f"wanted {box} on {width} x {height}"
    # Both shapes moved together with the origin of the page.
    apart = after.shapes[0].geometry.start - after.shapes[1].geometry.start
    wanted = before.shapes[0].geometry.start + step - before.shapes[1].geometry.start
    assert (apart.x, apart.y) == pytest.approx((wanted.x, wanted.y), abs=1e-6)


def test_a_page_that_holds_all_is_left_alone() -> None:
    data = svg(BODY)
    assert data.split(b"<path")[0] in shifted(data, Vector(5, 5))


def test_only_the_side_that_is_crossed_grows() -> None:
    data = svg(BODY, root='viewBox="0 0 50 40" height="40mm" width=\'50mm\'')
    out = shifted(data, Vector(0, 30.5))
    assert b'viewBox="0 0 50 66" height="66mm" width=\'50mm\'' in out


def test_a_page_without_size_stays() -> None:
    data = svg(BODY, root="")
    assert data.split(b"<path")[0] in shifted(data, Vector(500, 0), mm_per_unit=1.0)


def test_a_viewbox_alone_grows_with_a_unit_by_hand() -> None:
    out = shifted(svg(BODY, root='viewBox="0 0 50 40"'), Vector(500, 0), mm_per_unit=2.0)
    assert b'viewBox="0 0 282.5 40"' in out


def test_bounds_can_be_given() -> None:
    data = svg(BODY)
    reading = read(data)
    new = [(s,) for s in reading.shapes[0].geometry]
    new[0] = ()
    out = splice_svg(
        reading.source, data, {0: edit(reading, 0, new)}, bounds_mm=Box(0, 0, 500, 100)
    )
    assert b'width="505mm" height="300mm" viewBox="0 0 505 300"' in out


def test_what_stood_beyond_the_page_may_go_on_doing_so() -> None:
    data = svg('<path d="M-50 10h20v20z"/>')
    assert data.split(b"<path")[0] in shifted(data, Vector(1, 0))
