"""Nested sizes out and in again: only what was altered changes, and each keeps its size."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.alter.model import Change
from core.alter.sizes import alter_sizes
from core.curve import Chain
from core.files import Drawing, Format, read_bytes, render
from core.piece.model import Piece
from tests.core.files.dxf.dxf_made import changed_lines

SAMPLES = Path(__file__).parent.parent.parent.parent / "sample_pieces"
SVG, DXF = "rain_breeches.svg", "rain_breeches.dxf"
SIZES = ("36", "38", "40", "42", "44")


def nested(name: str) -> Drawing:
    return read_bytes(Path(name), (SAMPLES / name).read_bytes())


def altered(drawing: Drawing, changes: Change | dict[str, Change]) -> Drawing:
    return drawing.with_pieces(a.piece for a in alter_sizes(drawing.pieces, changes))


def called(pieces: tuple[Piece, ...]) -> list[tuple[str, str]]:
    return [(p.title.lower(), p.size) for p in pieces]


@pytest.mark.parametrize("name", [SVG, DXF])
@pytest.mark.parametrize("form", list(Format))
def test_written_and_read_again_it_has_the_same_sizes(name: str, form: Format) -> None:
    drawing = altered(nested(name), {"38": Change(50.0), "44": Change(-25.0)})
    again = read_bytes(Path(f"again{form.value}"), render(drawing, form))
    assert called(again.pieces) == called(drawing.pieces)
    assert all(p.sized is not None and p.sized.sure for p in again.pieces)
    for was, now in zip(drawing.pieces, again.pieces, strict=True):
        for edge in was.edges:
            wanted, got = was.edge_length(edge), now.edge_length(now.edge(edge.role))
            assert got == pytest.approx(wanted, abs=0.1), f"{was.name} {edge.role.value}"


@pytest.mark.parametrize("name", [SVG, DXF])
@pytest.mark.parametrize("size", ["36", "44"])
def test_where_one_size_is_altered_the_others_keep_every_byte(name: str, size: str) -> None:
    drawing = nested(name)
    after = render(altered(drawing, {size: Change(40.0)}))
    assert after != drawing.data
    again = read_bytes(drawing.path, after)
    for was, now in zip(drawing.as_read, again.pieces, strict=True):
        if was.size != size:
            assert now.outline.ring == was.outline.ring, was.name
            assert [m.geometry for m in now.marks] == [m.geometry for m in was.marks], was.name
    if name == SVG:
        gone, _ = changed_lines(drawing.data, after)
        assert len(gone) == 2
        assert all(f'-{size}"'.encode() in line for line in gone), gone


@pytest.mark.parametrize("name", [SVG, DXF])
def test_each_size_has_its_own_taper(name: str) -> None:
    """A larger size tapers more here, so its hem loses more with the same amount."""
    drawing = nested(name)
    lost: dict[str, list[float]] = {}
    for a in alter_sizes(drawing.pieces, Change(60.0)):
        figures = a.figures
        lost.setdefault(a.piece.title.lower(), []).append(
            figures.hem_width_before_mm - figures.hem_width_after_mm
        )
        assert a.piece.size in SIZES
    for title, by_size in lost.items():
        rising = sorted(by_size)
        assert by_size in (rising, rising[::-1]), f"{title}: {by_size}"
        assert rising[-1] - rising[0] > 2.0, f"{title}: wanted tapers of their own, got {by_size}"


def test_what_is_drawn_once_is_written_once() -> None:
    """The grain line, cut back by every size, is changed as the largest wants it."""
    drawing = nested(SVG)
    shorter = altered(drawing, Change(-120.0))
    after = render(shorter)
    for word in (b'id="front-grain"', b'id="front-pocket"', b">cut 2<", b">Front<"):
        assert after.count(word) == drawing.data.count(word), word
    again = read_bytes(drawing.path, after)
    largest = {p.title: p for p in shorter.pieces if p.size == "44"}
    for piece in again.pieces:
        lead = {m.shape: m.geometry for m in largest[piece.title].marks}
        for mark in piece.marks:
            wanted = lead.get(mark.shape)
            if isinstance(wanted, Chain) and isinstance(mark.geometry, Chain):
                for got, want in zip(mark.geometry, wanted, strict=True):
                    assert got.end.distance(want.end) < 1e-6, f"{piece.name}: {mark.kind.value}"


def test_a_fresh_svg_draws_once_what_all_sizes_share() -> None:
    drawing = nested(SVG)
    fresh = read_bytes(Path("f.dxf"), render(drawing, Format.DXF))
    out = render(fresh, Format.SVG)
    assert out.count(b"<title>Size 38</title>") == 1
    # A DXF block stands for itself, so what came from it is drawn in each again.
    again = read_bytes(Path("f.svg"), out)
    assert called(again.pieces) == called(drawing.pieces)


def test_a_nest_exported_flat_keeps_its_sizes_by_the_ids_alone() -> None:
    """Groups and titles gone, as general editors do on ungrouping; ids like front-38 stay."""
    import re

    data = (SAMPLES / SVG).read_bytes()
    flat = re.sub(rb"</?g\b[^>]*>|<title>(Size|All)[^<]*</title>", b"", data)
    drawing = read_bytes(Path("flat.svg"), flat)
    assert {(p.title, p.size) for p in drawing.pieces} == {
        (title, size) for title in ("Front", "Back") for size in SIZES
    }
