"""Builds small SVG files and edits of them; asserts with wanted, got and tolerance."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from core.curve import Chain, Line, Point, Segment, Vector
from core.files.edits import PathEdit, PointEdit
from core.files.reading import Reading
from core.files.svg import read_svg, splice_svg

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
PAGE = 'width="400mm" height="300mm" viewBox="0 0 400 300"'
Parts = Sequence[Sequence[Segment]]


def svg(body: str, *, root: str = PAGE) -> bytes:
    """A document of 400 x 300 mm, one unit a mm, unless `root` says otherwise."""
    return f"{HEAD}{root}>{body}</svg>".encode()


def read(data: bytes, **options: float) -> Reading:
    return read_svg("test.svg", data, **options)


def only(data: bytes, **options: float) -> Chain:
    """The geometry of the only shape in the file."""
    shapes = read(data, **options).shapes
    assert len(shapes) == 1, f"wanted one shape, got {len(shapes)}"
    geometry = shapes[0].geometry
    assert isinstance(geometry, Chain)
    return geometry


def corners(chain: Chain) -> list[tuple[float, float]]:
    return [(s.start.x, s.start.y) for s in chain]


def assert_points(got: Sequence[Point], wanted: Sequence[Point], tolerance: float) -> None:
    assert len(got) == len(wanted), f"wanted {len(wanted)} points, got {len(got)}"
    for g, w in zip(got, wanted, strict=True):
        assert g.distance(w) <= tolerance, f"wanted {w}, got {g}, tolerance {tolerance}"


def assert_drawn(got: Chain, wanted: Sequence[Segment], tolerance: float = 1e-6) -> None:
    """Segment by segment the same kind and, within the tolerance in mm, the same points."""
    assert len(got) == len(wanted), f"wanted {len(wanted)} segments, got {len(got)}"
    for g, w in zip(got, wanted, strict=True):
        assert type(g) is type(w), f"wanted {w}, got {g}"
        assert_points(g.controls, w.controls, tolerance)


def parts_of(chain: Chain) -> list[tuple[Segment, ...]]:
    return [(s,) for s in chain]


def edit(reading: Reading, key: int, new: Parts) -> PathEdit:
    geometry = reading.shapes[key].geometry
    assert isinstance(geometry, Chain)
    return PathEdit(key, geometry.segments, tuple(tuple(n) for n in new))


def with_corner_moved(chain: Chain, number: int, step: Vector) -> list[tuple[Segment, ...]]:
    """The chain's parts with the start of a segment (and the end before it) moved."""
    out = list(chain)
    old = out[number].start
    for k, s in enumerate(out):
        points = [
            p + step if p == old and j in (0, len(s.controls) - 1) else p
            for j, p in enumerate(s.controls)
        ]
        out[k] = type(s)(*points)
    return [(s,) for s in out]


def splice(data: bytes, reading: Reading, edits: Mapping[int, PathEdit | PointEdit]) -> bytes:
    return splice_svg(reading.source, data, edits)


def spliced(data: bytes, key: int, new: Parts) -> bytes:
    reading = read(data)
    return splice(data, reading, {key: edit(reading, key, new)})


def line(x0: float, y0: float, x1: float, y1: float) -> Line:
    return Line(Point(x0, y0), Point(x1, y1))


def flat(new: Parts) -> list[Segment]:
    return [s for part in new for s in part]


def d_of(data: bytes) -> str:
    return data.decode().split(' d="')[1].split('"')[0]
