"""Files whose name says another kind than they are, and files that were repaired."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change
from core.errors import FileError
from core.files import Format, read, write

SAMPLES = Path(__file__).parents[3] / "sample_pieces"
SVG, DXF = SAMPLES / "allotment_shorts.svg", SAMPLES / "digging_trousers.dxf"


@pytest.mark.parametrize(
    ("source", "ending", "kind"), [(SVG, ".dxf", Format.SVG), (DXF, ".svg", Format.DXF)]
)
def test_a_wrong_ending_is_said_and_the_pieces_are_there(
    source: Path, ending: str, kind: Format, tmp_path: Path
) -> None:
    path = tmp_path / f"renamed{ending}"
    path.write_bytes(source.read_bytes())
    drawing = read(path)
    assert drawing.format is kind
    assert [p.name for p in drawing.pieces] == [p.name for p in read(source).pieces]
    assert "whatever its name says" in drawing.problems[0]


@pytest.mark.parametrize("ending", [".svg", ".dxf"])
def test_what_is_neither_is_refused_without_printing_its_bytes(ending: str, tmp_path: Path) -> None:
    path = tmp_path / f"noise{ending}"
    path.write_bytes(bytes(range(256)) * 8)
    with pytest.raises(FileError, match="noise") as refusal:
        read(path)
    assert str(refusal.value).isprintable()
    assert "\ufffd" not in str(refusal.value)


def test_a_repaired_file_is_saved_altered_but_never_over_itself(tmp_path: Path) -> None:
    path = tmp_path / "broken.dxf"
    path.write_bytes(DXF.read_bytes().rstrip().removesuffix(b"EOF"))
    drawing = read(path)
    assert drawing.cleaned
    altered = drawing.with_piece(lengthen(drawing.pieces[0], Change(50.0)).piece)
    with pytest.raises(FileError, match="another name"):
        write(altered, path)
    again = read(write(altered, tmp_path / "longer.dxf"))
    assert not again.cleaned
    heights = [d.pieces[0].outline.ring.bounds().height for d in (drawing, again)]
    assert abs(heights[1] - heights[0] - 50.0) < 0.02, f"wanted 50 longer, got {heights}"
