"""A turn-up on a piece with a cutting line only: told on the command line, read back from file."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from app.__main__ import main
from core.files import read
from tests.published.test_turn_ups import SEAM, rings

SLOPE = 20.0 / 600.0


def pattern(folder: Path, *, mirrored: bool) -> Path:
    """The panel 22 above, 18 below, 60 high, but 6 cm too short; its cutting line alone."""
    _, cut = rings(220.0, 184.0, 540.0, 30.0, mirrored=mirrored)
    points = " ".join(f"{s.start.x + 200.0:.6f},{s.start.y + 50.0:.6f}" for s in cut)
    path = folder / "leg.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="700mm"'
        ' viewBox="0 0 400 700">'
        f'<polygon id="trouser-front" points="{points}"/>'
        '<line id="grain" x1="200" y1="120" x2="200" y2="500"/></svg>'
    )
    return path


@pytest.mark.parametrize("mirrored", [True, False])
@pytest.mark.parametrize(("ending", "near"), [(".svg", 0.002), (".dxf", 0.02)])
def test_the_turn_up_is_the_mirror_image_of_the_leg_in_the_file(
    tmp_path: Path, mirrored: bool, ending: str, near: float
) -> None:
    """Closed form: 18 at the fold and 2 over 60 on each side: 18.2 three below it."""
    out = tmp_path / f"longer{ending}"
    told = ["--allowance", "1cm", "--hem-allowance", "3cm", "--turn-up", "mirror"]
    path = pattern(tmp_path, mirrored=mirrored)
    assert main(["alter", str(path), "--by", "6cm", *told, "--out", str(out)]) == 0
    ring = read(out).pieces[0].outline.ring
    lowest = max(s.start.y for s in ring)
    at_edge = [s.start.x for s in ring if abs(s.start.y - lowest) < 0.01]
    width = max(at_edge) - min(at_edge) - 2.0 * SEAM * math.sqrt(1.0 + SLOPE**2)
    assert width == pytest.approx(182.0, abs=near)


def test_lengths_are_told_where_it_is_sewn(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "longer.svg"
    told = ["--allowance", "1cm", "--hem-allowance", "3cm"]
    path = pattern(tmp_path, mirrored=False)
    assert main(["alter", str(path), "--by", "6cm", *told, "--out", str(out)]) == 0
    said = capsys.readouterr().out
    assert "18.40 cm  ->    18.00 cm" in said, said
    assert "17.80 cm" in said, "wanted both widths of a turn-up that is carried straight on"
