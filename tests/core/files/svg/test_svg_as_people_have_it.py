"""One trouser leg drawn in every common way: read at true scale, lengthened, written, and read
again by a general SVG library that knows nothing of this program.

The altered outline must be that of the plain file in mm, wherever and however it is drawn.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
import svgelements
from shapely import LineString

from core.alter.model import Change
from core.alter.together import alter_together
from core.files import Drawing, read_bytes, render
from core.piece.model import Piece
from tests.core.files.svg.people import (
    DATA,
    LEG,
    PX,
    RATIOS,
    SHAPES,
    SHARED,
    SIZED_SYMBOL,
    TREES,
    UNITS,
    Way,
    svg,
)

BY = 60.0
# Where the library and we may differ (mm): how finely both are followed, how many digits stand.
SAME = 2e-3


def longer(data: bytes, unit: float | None = None) -> tuple[Drawing, Drawing]:
    """The file as read, and its first piece with a hem 60 mm longer."""
    old = read_bytes(Path("leg.svg"), data, mm_per_unit=unit)
    pieces = [p for p in old.pieces if p.hem]
    assert pieces, f"wanted a piece with a hem, got {old.pieces} {old.problems}"
    return old, old.with_pieces(a.piece for a in alter_together(pieces[:1], Change(BY)))


def seen(data: bytes, px: float = PX) -> list[LineString]:
    """Every line that the library draws, in mm."""
    drawing = svgelements.SVG.parse(io.BytesIO(data), reify=True, ppi=96)
    out = []
    for element in drawing.elements():
        if isinstance(element, svgelements.Shape):
            for part in svgelements.Path(element).as_subpaths():
                points = list(_points(svgelements.Path(part), px))
                if len(points) > 2:
                    out.append(LineString(points))
    return out


def _points(part: svgelements.Path, px: float) -> Iterator[tuple[float, float]]:
    for segment in part:
        if not isinstance(segment, svgelements.Move):
            for k in range(65):
                p = segment.point(k / 64)
                yield p.x * px, p.y * px


def outline(drawing: Drawing) -> LineString:
    return outline_of(drawing.pieces[0])


def outline_of(piece: Piece) -> LineString:
    points = (s.at(k / 64) for s in piece.outline.ring for k in range(65))
    return LineString([(p.x, p.y) for p in points])


def nearest(lines: list[LineString], wanted: LineString) -> float:
    return min(line.hausdorff_distance(wanted) for line in lines)


def checked(way: Way) -> None:
    """At true scale, and altered as the plain file is; by our own reading and the library's."""
    plain_old, plain_new = longer(way.plain_data)
    old, new = longer(way.data, way.unit)
    ours = nearest([outline(old)], outline(plain_old))
    assert ours <= SAME, f"{ours:.4f} mm off as read, wanted at most {SAME}"
    for what, data, wanted in (
        ("as drawn", way.data, plain_old),
        ("altered", render(new), plain_new),
    ):
        off = nearest(seen(data, way.px), outline(wanted))
        assert off <= SAME, f"{what}: {off:.4f} mm off, wanted at most {SAME}"


@pytest.mark.parametrize("name", UNITS)
def test_a_page_in_any_unit(name: str) -> None:
    checked(UNITS[name])


@pytest.mark.parametrize("name", RATIOS)
def test_a_viewbox_with_any_alignment(name: str) -> None:
    checked(RATIOS[name])


@pytest.mark.parametrize("name", TREES)
def test_groups_transforms_clones_and_styles(name: str) -> None:
    checked(TREES[name])


@pytest.mark.parametrize("name", SHAPES)
def test_shapes_other_than_path(name: str) -> None:
    checked(SHAPES[name])


@pytest.mark.parametrize("name", DATA)
def test_path_data_as_editors_write_it(name: str) -> None:
    checked(DATA[name])


def test_a_symbol_that_its_use_gives_a_size() -> None:
    plain_old, plain_new = longer(SIZED_SYMBOL.plain_data)
    old, new = longer(SIZED_SYMBOL.data)
    again = read_bytes(Path("leg.svg"), render(new), mm_per_unit=None)
    assert nearest([outline(old)], outline(plain_old)) <= SAME
    assert nearest([outline(again)], outline(plain_new)) <= SAME


def test_a_hidden_layer_stays_to_the_byte() -> None:
    old, new = longer(TREES["hidden layer"].data)
    assert len(old.pieces) == 1, "wanted the hidden outlines left out of the pieces"
    for hidden in (f'<path id="draft" d="{LEG}"/>', f'"display:none"><path d="{LEG}"/>'):
        assert hidden.encode() in render(new)


def test_only_the_altered_subpath_is_written_anew() -> None:
    old, new = longer(DATA["two legs in one path"].data)
    assert len(old.pieces) == 2
    after = render(new)
    assert b"Z m 250 0 h 200 l -20 550 h -160 z" in after
    assert nearest(seen(after), outline_of(old.pieces[1])) <= SAME


@pytest.mark.parametrize("which", [0, 1])
@pytest.mark.parametrize("name", SHARED)
def test_of_pieces_that_share_a_shape_only_the_one_asked_for_changes(name: str, which: int) -> None:
    data = svg(SHARED[name])
    old = read_bytes(Path("legs.svg"), data, mm_per_unit=None)
    assert len(old.pieces) == 2
    (done,) = alter_together([old.pieces[which]], Change(BY))
    after = render(old.with_pieces([done.piece]))
    left = old.pieces[1 - which]
    assert nearest(seen(after), outline_of(done.piece)) <= SAME, "the one asked for"
    assert nearest(seen(after), outline_of(left)) <= SAME, "the other one"
    drawn = [line for line in seen(after) if line.bounds[3] > 610.0]
    assert len(drawn) == 1, f"wanted one longer leg, got {len(drawn)}"
