"""Nests as general CAD programs and vector editors write them, from the breeches sample: sizes on
layers, in blocks, in loose lines, in classes and labels. What comes out is always the same nest.
"""

from __future__ import annotations

from collections.abc import Iterator
from io import StringIO
from pathlib import Path

import ezdxf
import pytest

from core.alter.model import Change
from core.alter.sizes import alter_sizes
from core.curve import Chain, Point
from core.files import Drawing, read_bytes, render
from core.piece.mates import find_mates

SAMPLE = Path(__file__).parent.parent.parent.parent / "sample_pieces" / "rain_breeches.svg"
LETTERS = {"36": "XS", "38": "S", "40": "M", "42": "L", "44": "XL"}
Flat = list[tuple[float, float]]


@pytest.fixture(scope="module")
def breeches() -> Drawing:
    return read_bytes(SAMPLE, SAMPLE.read_bytes())


def rings(drawing: Drawing) -> Iterator[tuple[str, str, Flat]]:
    """Title, size and points of each outline, y up."""
    for p in drawing.pieces:
        flat = p.outline.ring.flattened(tolerance=0.05)[:-1]
        yield p.title, p.size, [(float(x), -float(y)) for x, y in flat]


def dxf(drawing: Drawing, way: str) -> bytes:
    document = ezdxf.new("R2000")
    document.units = 4
    space = document.modelspace()
    for title, size, points in rings(drawing):
        names = {"number": size, "word": f"SIZE_{size}", "letter": LETTERS[size]}
        names |= {"piece": f"{title}-{size}", "lines": f"Size {size}"}
        layer = {"layer": names.get(way, "0")}
        if way == "block":
            block = document.blocks.new(f"{title}{size}")
            space.add_blockref(block.name, (0, 0))
            block.add_lwpolyline(points, close=True)
        elif way == "lines":
            for a, b in zip(points, points[1:] + points[:1], strict=True):
                space.add_line(a, b, dxfattribs=layer)
        else:
            space.add_lwpolyline(points, close=True, dxfattribs=layer)
    for title in ("Front", "Back"):
        piece = next(p for p in drawing.pieces if p.title == title)
        at = next(m.geometry for m in piece.marks if m.text == title)
        grain = next(m.geometry for m in piece.marks if m.shape == piece.grain.shape)
        assert isinstance(at, Point)
        assert isinstance(grain, Chain)
        space.add_text(title, dxfattribs={"insert": (at.x, -at.y), "height": 10})
        ends = [(p.x, -p.y) for p in (grain.start, grain.end)]
        space.add_line(*ends, dxfattribs={"layer": "GRAIN"})
    out = StringIO()
    document.write(out)
    return out.getvalue().encode()


@pytest.mark.parametrize("way", ["number", "word", "letter", "piece", "lines", "block"])
def test_a_nest_in_plain_dxf(breeches: Drawing, way: str) -> None:
    drawing = read_bytes(Path("nest.dxf"), dxf(breeches, way))
    sizes = LETTERS if way == "letter" else {s: s for s in LETTERS}
    wanted = {(title, sizes[size]) for title, size, _ in rings(breeches)}
    assert {(p.title, p.size) for p in drawing.pieces} == wanted
    assert len(drawing.pieces) == 10
    assert not drawing.problems
    size_of = {p.key: p.size for p in drawing.pieces}
    pairs = find_mates(drawing.pieces)
    assert len(pairs) == 10, "inseam and side of each size"
    assert all(size_of[m.first[0]] == size_of[m.second[0]] for m in pairs)

    one = sizes["40"]
    changes = {one: Change(40.0)}
    after = drawing.with_pieces(a.piece for a in alter_sizes(drawing.pieces, changes))
    again = read_bytes(Path("nest.dxf"), render(after))
    for was, now in zip(drawing.pieces, again.pieces, strict=True):
        assert (now.name, now.size) == (was.name, was.size)
        same = now.outline.ring == was.outline.ring
        assert same == (was.size != one), f"{was.name}: only size {one} was to change"


def test_a_nest_without_words_is_spoken_of(breeches: Drawing) -> None:
    drawing = read_bytes(Path("nest.dxf"), dxf(breeches, "none"))
    assert {p.size for p in drawing.pieces} == {""}
    assert any("lie over each other" in p for p in drawing.problems)


def path(points: Flat) -> str:
    return "M" + " ".join(f"{x:.3f},{-y:.3f}" for x, y in points) + "Z"


SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:k="urn:k" width="960mm" height="760mm"'


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ('<g k:label="{size}"><path id="p{n}" k:label="{title}" d="{d}"/>', "</g>"),
        ('<path id="p{n}" class="cut size-{size}" k:label="{title}" d="{d}"/>', ""),
        ('<path id="{title}_{size}" d="{d}"/>', ""),
        ('<g id="g{n}"><title>{title} size {size}</title><path d="{d}"/>', "</g>"),
        ('<g id="EU-{size}-{n}"><path k:label="{title}" d="{d}"/>', "</g>"),
    ],
)
def test_a_nest_in_svg_of_vector_editors(breeches: Drawing, before: str, after: str) -> None:
    body = "".join(
        before.format(size=size, title=title, n=n, d=path(points)) + after
        for n, (title, size, points) in enumerate(rings(breeches), 20)
    )
    drawing = read_bytes(Path("n.svg"), f'{SVG} viewBox="0 0 960 760">{body}</svg>'.encode())
    found = {(p.title, p.size.removeprefix("EU ")) for p in drawing.pieces}
    assert found == {(title, size) for title, size, _ in rings(breeches)}
    assert not any("lie over each other" in p for p in drawing.problems)
