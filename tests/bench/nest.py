"""Ten sizes of front and back, drawn over each other: the pattern that the benches alter."""

from __future__ import annotations

from collections.abc import Iterator

from core.curve import Affine, Chain, Cubic, Line, Point, Ring, Segment, Vector
from core.piece.model import Piece, Shape
from core.piece.recognise import recognise

SIZES = tuple(str(size) for size in range(34, 54, 2))


def ten_sizes() -> tuple[Piece, ...]:
    """Twenty plain pieces of twelve segments each, recognised, in centimetre steps."""
    shapes: list[Shape] = []
    for name, size, ring, grain in _drawn():
        shapes.append(Shape(len(shapes), ring, (f"{name}-{size}", f"size {size}")))
        shapes.append(Shape(len(shapes), Chain((grain,)), ("grain", f"size {size}")))
    return recognise(shapes)[0]


def ten_sizes_as_svg() -> str:
    """The same as a file."""
    out = ['<svg xmlns="http://www.w3.org/2000/svg" width="1600mm" height="700mm"']
    out.append(' viewBox="-150 -20 1600 700">')
    for name, size, ring, grain in _drawn():
        d = f"M{_pair(ring.start)}{''.join(map(_step, ring))}z"
        out.append(f'<g class="size {size}"><path id="{name}-{size}" d="{d}"/>')
        out.append(
            f'<path id="grain-{name}-{size}" d="M{_pair(grain.start)}{_step(grain)}"/></g>\n'
        )
    return "".join((*out, "</svg>\n"))


def _drawn() -> Iterator[tuple[str, str, Ring, Line]]:
    for k, size in enumerate(SIZES):
        for name, place in (("Front", Affine()), ("Back", Affine.move(900.0, 0.0))):
            ring = _leg(k, deeper=30.0 if name == "Back" else 0.0).mapped(place)
            grain = Line(Point(140.0, 150.0), Point(140.0, 450.0)).mapped(place)
            yield name, size, ring, grain


def _step(segment: Segment) -> str:
    letter = "L" if isinstance(segment, Line) else "C"
    return letter + " ".join(map(_pair, segment.controls[1:]))


def _pair(p: Point) -> str:
    return f"{p.x:.6f},{p.y:.6f}"


def _leg(k: int, *, deeper: float) -> Ring:
    """One leg: waist, side, hem, inseam and rise in two or three segments each."""
    wide = 10.0 * k
    top, side = Point(0.0, 10.0), Point(250.0 + wide, 0.0)
    hip, fit = Point(280.0 + wide, 180.0), Point(279.0 + wide, 240.0)
    foot = Point(250.0 + 0.6 * wide, 620.0 + 3.0 * k)
    heel = Point(10.0 - deeper / 2, 618.0 + 3.0 * k)
    crotch, turn = Point(-50.0 - deeper - 2.0 * k, 250.0 + deeper), Point(0.0, 150.0)
    knee = crotch.towards(heel, 0.4)
    half = foot.towards(heel, 0.5)
    waist = top.towards(side, 0.5)
    steps: tuple[Segment, ...] = (
        Line(top, waist),
        Line(waist, side),
        _curve(side, Vector(0.2, 1.0), hip, Vector(0.0, 1.0)),
        _curve(hip, Vector(0.0, 1.0), fit, foot - fit),
        Line(fit, foot),
        _curve(foot, Vector(-1.0, 0.03), half, Vector(-1.0, 0.0)),
        _curve(half, Vector(-1.0, 0.0), heel, Vector(-1.0, -0.03)),
        Line(heel, knee),
        Line(knee, crotch),
        _curve(crotch, Vector(1.0, 0.1), turn, Vector(0.0, -1.0)),
        Line(turn, turn.towards(top, 0.5)),
        Line(turn.towards(top, 0.5), top),
    )
    return Ring(steps)


def _curve(start: Point, leaving: Vector, end: Point, arriving: Vector) -> Cubic:
    third = start.distance(end) / 3
    return Cubic(start, start.moved(leaving.unit(), third), end.moved(arriving.unit(), -third), end)
