"""Curves as straight lines, where a machine knows no curves: within the tolerance asked for."""

from __future__ import annotations

import io
from pathlib import Path

import ezdxf
import pytest
import shapely

from app.__main__ import main
from core.curve import Cubic
from core.errors import FileError
from core.files import Drawing, Format, read, read_bytes, render
from core.piece.model import Kind

SAMPLES = Path(__file__).parents[4] / "sample_pieces"
NAMES = sorted(p.name for p in SAMPLES.iterdir() if p.suffix in (".svg", ".dxf"))
SHORTS = str(SAMPLES / "allotment_shorts.svg")


def as_polylines(drawing: Drawing, tolerance: float) -> Drawing:
    return read_bytes(Path("p.dxf"), render(drawing, Format.DXF, polylines=tolerance))


@pytest.mark.parametrize("tolerance", [0.001, 0.1, 2.0])
@pytest.mark.parametrize("name", NAMES)
def test_straight_lines_keep_within_the_tolerance(name: str, tolerance: float) -> None:
    """By the Hausdorff distance to the outline as densely as makes no difference (1e-5 mm)."""
    drawing = read(SAMPLES / name)
    there = as_polylines(drawing, tolerance)
    for was, now in zip(drawing.pieces, there.pieces, strict=True):
        for a, b in ((was.outline, now.outline), (was.stitching, now.stitching)):
            if a is None or b is None:
                assert a is b
                continue
            exact, drawn = (shapely.LinearRing(o.ring.flattened(tolerance=1e-5)) for o in (a, b))
            off = shapely.hausdorff_distance(exact, drawn)
            assert off <= tolerance + 2e-5, f"wanted within {tolerance} mm, got {off}"


@pytest.mark.parametrize("name", NAMES)
def test_there_is_no_curve_in_it_and_each_outline_is_one_polyline(name: str) -> None:
    drawing = read(SAMPLES / name)
    data = render(drawing, Format.DXF, polylines=0.1)
    document = ezdxf.read(io.StringIO(data.decode()))
    entities = [e for b in document.blocks for e in b]
    assert {e.dxftype() for e in entities} <= {
        "LWPOLYLINE",
        "LINE",
        "POINT",
        "TEXT",
        "MTEXT",
        "INSERT",
    }
    bent = [e for e in entities if e.dxftype() == "LWPOLYLINE" and e.has_arc]
    assert not bent, f"wanted no bulges, got {len(bent)}"
    outlines = [e for e in entities if e.dxf.layer == "1" and e.dxftype() == "LWPOLYLINE"]
    assert len(outlines) == len(drawing.pieces)
    assert all(e.closed for e in outlines)
    assert not any(
        isinstance(s, Cubic) for p in read_bytes(Path("p.dxf"), data).pieces for s in p.outline.ring
    )


def test_corners_and_marks_are_where_they_were() -> None:
    drawing = read(SHORTS)
    there = as_polylines(drawing, 0.5)
    for was, now in zip(drawing.pieces, there.pieces, strict=True):
        ends = [s.start for s in now.outline.ring]
        for s in was.outline.ring:
            assert min(s.start.distance(p) for p in ends) < 1e-8
        kinds = [sorted(m.kind.value for m in p.marks if m.kind is Kind.NOTCH) for p in (was, now)]
        assert kinds[0] == kinds[1]
        assert [e.role for e in now.edges] == [e.role for e in was.edges]


@pytest.mark.parametrize("tolerance", [0.0, -0.1, 1e-4, 2.5, float("nan"), float("inf")])
def test_a_tolerance_that_makes_no_pattern_is_refused(tolerance: float) -> None:
    with pytest.raises(FileError, match="is no tolerance"):
        render(read(SHORTS), Format.DXF, polylines=tolerance)


@pytest.mark.parametrize("typed", ["0mm", "-1mm", "5cm", "0.0001mm", "much"])
def test_at_the_command_line_too(typed: str, tmp_path: Path, capsys) -> None:
    out = tmp_path / "o.dxf"
    command = ["alter", SHORTS, "--by", "6cm", "--out", str(out), "--polylines", typed]
    with pytest.raises(SystemExit) as ended:
        main(command)
    assert ended.value.code == 2
    assert not out.exists()
    said = capsys.readouterr().err
    assert "tolerance" in said or "cannot be read" in said


@pytest.mark.parametrize("how", [["alter"], ["insert", "--at", "25cm"]])
@pytest.mark.parametrize("name", ["allotment_shorts.svg", "digging_trousers.dxf"])
def test_alter_and_insert_write_them(how: list[str], name: str, tmp_path: Path) -> None:
    """Of a DXF too: it is then a clean new one."""
    out = tmp_path / "o.dxf"
    command = [how[0], str(SAMPLES / name), *how[1:], "--by", "6cm", "--out", str(out)]
    assert main([*command, "--polylines", "0.1mm"]) == 0
    assert b"\n  0\nSPLINE\n" not in out.read_bytes()
    assert b"LWPOLYLINE" in out.read_bytes()
    assert len(read(out).pieces) == 2


def test_an_svg_keeps_its_curves_and_says_so(tmp_path: Path, capsys) -> None:
    out = tmp_path / "o.svg"
    command = ["alter", SHORTS, "--by", "6cm", "--out", str(out), "--polylines", "0.1mm"]
    assert main(command) == 1
    assert not out.exists()
    assert "an SVG keeps its curves" in capsys.readouterr().err
