"""Files as general vector editors and CAD programs write them, from the shorts sample.

Their ways are drawn here by code: flattened groups with a matrix on every path and no ids,
pixels, relative path data, everything in one path, shuffled lines and splines, old R12
polylines. What must come out is always the same pair of shorts.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from io import StringIO
from pathlib import Path

import ezdxf
import pytest

from core.alter.model import Change
from core.alter.together import alter_together
from core.curve import Affine, Chain, Line, Segment
from core.files import Drawing, read_bytes, render
from core.piece.model import Piece, Role

SHORTS = Path(__file__).parent.parent.parent.parent / "sample_pieces" / "allotment_shorts.svg"
PX = 25.4 / 96  # W3C CSS Values and Units 3: 96 px to the inch


def shorts() -> Drawing:
    return read_bytes(SHORTS, SHORTS.read_bytes())


def chains(piece: Piece) -> list[Chain]:
    return [piece.ring, *(m.geometry for m in piece.marks if isinstance(m.geometry, Chain))]


def absolute(chain: Chain) -> str:
    words = [f"M {chain.start.x:.6f} {chain.start.y:.6f}"]
    for s in chain:
        letter = "L" if isinstance(s, Line) else "C"
        words.append(letter + " ".join(f" {p.x:.6f} {p.y:.6f}" for p in s.controls[1:]))
    closing = f"Z M {chain.start.x:.6f} {chain.start.y:.6f}" if chain.closed else ""
    return " ".join([*words, closing])


def relative(chain: Chain) -> str:
    """Compact and relative: implicit letters, no spaces that can be left out."""
    words, letter = [f"m{chain.start.x:.5f},{chain.start.y:.5f}"], "m"
    for s in chain:
        now = "l" if isinstance(s, Line) else "c"
        steps = [f"{p.x - s.start.x:.5f},{p.y - s.start.y:.5f}" for p in s.controls[1:]]
        words.append((now if now != letter else "") + " ".join(steps))
        letter = now
    return " ".join(words) + ("z" if chain.closed else "")


def svg(body: str, *, root: str) -> bytes:
    head = '<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg"'
    return f"{head} {root}>{body}</svg>".encode()


def page_printer(drawing: Drawing) -> bytes:
    """A printing library: px, one matrix for each path, no ids at all."""
    matrix = f"matrix({1 / PX:.9f},0,0,{1 / PX:.9f},0.000000000000227374,0)"
    paths = [
        f'<path style="fill:none;stroke-width:0.8;" d="{absolute(c)} " transform="{matrix}"/>'
        for p in drawing.pieces
        for c in chains(p)
    ]
    size = f'width="{958 / PX:.6f}px" height="{700 / PX:.6f}px"'
    return svg(f'<g id="surface1">{"".join(paths)}</g>', root=size)


def nested_editor(drawing: Drawing) -> bytes:
    """A drawing program: layers, nested transforms that cancel, relative data."""
    groups = []
    for p in drawing.pieces:
        shift = Affine.move(-40.0, 25.0)
        paths = "".join(
            f'<path id="path{k}" d="{relative(c.mapped(shift))}"/>' for k, c in enumerate(chains(p))
        )
        groups.append(f'<g transform="translate(40,-25)"><g transform="scale(1,1)">{paths}</g></g>')
    return svg("".join(groups), root='width="958mm" height="700mm" viewBox="0 0 958 700"')


def one_path(drawing: Drawing) -> bytes:
    """Everything combined into one compound path."""
    data = " ".join(absolute(c) for p in drawing.pieces for c in chains(p))
    return svg(f'<path d="{data}"/>', root='width="95.8cm" height="70cm" viewBox="0 0 958 700"')


def written(doc: object) -> bytes:
    out = StringIO()
    doc.write(out)  # type: ignore[attr-defined]
    return out.getvalue().encode()


def soup(drawing: Drawing) -> bytes:
    """A CAD program's exploded drawing: lines and splines, shuffled, some backwards."""
    rng = random.Random(7)
    doc = ezdxf.new("R2010")
    doc.header["$INSUNITS"] = 4
    space = doc.modelspace()
    loose: list[Segment] = [s for p in drawing.pieces for s in p.ring]
    rng.shuffle(loose)
    for segment in loose:
        drawn = segment.reversed() if rng.random() < 0.5 else segment
        points = [(q.x, -q.y) for q in drawn.controls]
        if isinstance(drawn, Line):
            space.add_line(*points)
        else:
            space.add_open_spline(points, degree=3)
    return written(doc)


def old_polylines(drawing: Drawing) -> bytes:
    """Release 12: polylines chopped within 0.1 mm, no units, no layers."""
    doc = ezdxf.new("R12")
    for piece in drawing.pieces:
        points = piece.ring.flattened(tolerance=0.1)[:-1]
        doc.modelspace().add_polyline2d([(x, -y) for x, y in points], close=True)
    return written(doc)


WAYS: dict[str, tuple[Callable[[Drawing], bytes], float | None, float]] = {
    # name: how it is written, mm per unit when the file does not say, tolerance in mm
    "page_printer.svg": (page_printer, None, 0.01),
    "nested_editor.svg": (nested_editor, None, 0.01),
    "one_path.svg": (one_path, None, 0.01),
    "soup.dxf": (soup, None, 0.01),
    "old_polylines.dxf": (old_polylines, 1.0, 1.0),
}


def lengths(piece: Piece) -> dict[Role, float]:
    return {e.role: piece.edge_length(e) for e in piece.edges}


def by_width(drawing: Drawing) -> list[Piece]:
    """Front then back: the back is the wider."""
    return sorted(drawing.pieces, key=lambda p: p.ring.bounds().width)


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize("name", list(WAYS))
@pytest.mark.parametrize("by", [120.0, -40.0])
def test_the_same_shorts_come_out(name: str, by: float) -> None:
    write, unit, tolerance = WAYS[name]
    original = shorts()
    data = write(original)
    drawing = read_bytes(Path(name), data, mm_per_unit=unit)
    assert len(drawing.pieces) == 2, drawing.problems
    mine = by_width(drawing)
    altered = alter_together(mine, Change(by))
    again = read_bytes(
        Path(name),
        render(drawing.with_pieces(a.piece for a in altered)),
        mm_per_unit=unit,
    )
    wanted = alter_together(by_width(original), Change(by))
    for got, want in zip(by_width(again), wanted, strict=True):
        ours, theirs = lengths(got), lengths(want.piece)
        assert set(ours) == set(theirs)
        for role, length in theirs.items():
            assert ours[role] == pytest.approx(length, abs=tolerance), f"{name} {role}"
        assert len(got.darts) == len(want.piece.darts)
