"""The plain trapezoid leg through real files, however it lies on the page."""

from __future__ import annotations

import math
from collections.abc import Callable
from io import StringIO
from pathlib import Path

import ezdxf
import pytest

from app.__main__ import main
from core.files import read

# Closed form: waist (0,0)-(200,0), side to (190,300), hem to (20,300); each mm down takes the
# sides in by 10/300 and 20/300.
LEG = [(0.0, 0.0), (200.0, 0.0), (190.0, 300.0), (20.0, 300.0)]
GRAIN = [(100.0, 50.0), (100.0, 250.0)]
HEM = {60: [(188.0, 360.0), (24.0, 360.0)], -60: [(192.0, 240.0), (16.0, 240.0)]}
Points = list[tuple[float, float]]


def turned(points: Points, degrees: float) -> Points:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return [(c * x - s * y + 500, s * x + c * y + 500) for x, y in points]


def svg(body: str) -> bytes:
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="1000mm" height="1000mm"'
    return f'{head} viewBox="0 0 1000 1000">{body}</svg>'.encode()


def svg_polygon(leg: Points, grain: Points, degrees: float) -> bytes:
    corners = " ".join(f"{x!r},{y!r}" for x, y in leg)
    (a, b), (c, d) = grain
    line = f'<line id="grain" x1="{a!r}" y1="{b!r}" x2="{c!r}" y2="{d!r}"/>'
    return svg(f'<polygon points="{corners}"/>{line}')


def svg_transform(leg: Points, grain: Points, degrees: float) -> bytes:
    down = grain[0] == pytest.approx(turned(GRAIN, degrees)[0])
    line = "M100 50V250" if down else "M100 250V50"
    return svg(
        f'<g transform="translate(500,500) rotate({degrees})">'
        f'<path d="m0 0h200l-10 300h-170z"/><g class="grain"><path d="{line}"/></g></g>'
    )


def dxf(draw: Callable[[object, Points], object], version: str) -> Callable[..., bytes]:
    def make(leg: Points, grain: Points, degrees: float) -> bytes:
        doc = ezdxf.new(version)
        if version != "R12":
            doc.header["$INSUNITS"] = 4
        doc.layers.add("GRAIN")
        draw(doc.modelspace(), [(x, -y) for x, y in leg])
        ends = [(x, -y) for x, y in grain]
        doc.modelspace().add_line(*ends, dxfattribs={"layer": "GRAIN"})
        out = StringIO()
        doc.write(out)
        return out.getvalue().encode()

    return make


def four_lines(space: object, leg: Points) -> None:
    for a, b in zip(leg, leg[1:] + leg[:1], strict=True):
        space.add_line(a, b)  # type: ignore[attr-defined]


DRAWN = {
    "polygon.svg": svg_polygon,
    "transform.svg": svg_transform,
    "lwpolyline.dxf": dxf(lambda m, q: m.add_lwpolyline(q, close=True), "R2010"),  # type: ignore[attr-defined]
    "polyline.dxf": dxf(lambda m, q: m.add_polyline2d(q, close=True), "R12"),  # type: ignore[attr-defined]
    "lines.dxf": dxf(four_lines, "R2000"),
}


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize("by", [60, -60])
@pytest.mark.parametrize("name", list(DRAWN))
@pytest.mark.parametrize("degrees", [0, 10, 45, 90, 135, 180, 200, 270, 333.3])
@pytest.mark.parametrize("upwards", [False, True])
def test_hem_corners_are_exact(
    by: int, name: str, degrees: float, upwards: bool, tmp_path: Path
) -> None:
    if upwards and degrees == 180:
        # Drawn so, the leg is the very same drawing as an upright flared panel.
        return
    grain = turned(GRAIN, degrees)
    source, out = tmp_path / name, tmp_path / f"out_{name}"
    source.write_bytes(
        DRAWN[name](turned(LEG, degrees), grain[::-1] if upwards else grain, degrees)
    )
    unit = ["--unit", "mm"] if name == "polyline.dxf" else []
    assert main(["alter", str(source), "--by", f"{by}mm", "--out", str(out), *unit]) == 0
    (piece,) = read(out, mm_per_unit=1.0 if unit else None).pieces
    corners = [(s.start.x, s.start.y) for s in piece.ring]
    assert len(corners) == 4
    for wanted in turned(LEG[:2] + HEM[by], degrees):
        off = min(math.dist(wanted, got) for got in corners)
        assert off < 1e-6, f"wanted a corner at {wanted}, nearest is {off} mm off: {corners}"
