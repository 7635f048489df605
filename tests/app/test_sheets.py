"""True-scale sheets: the scale in the file itself, the pages, the command and the window."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.__main__ import main
from app.paper.pattern import Laid
from app.paper.sheets import save_sheets
from app.window.main import MainWindow
from app.window.way.stage import Stage
from core.curve import Vector
from core.errors import FileError
from core.files import read
from core.paper.formats import Paper
from core.piece.model import Role
from tests.app.hands import Answers, type_length
from tests.app.pdf_lines import pages

SAMPLES = Path(__file__).parents[2] / "sample_pieces"
# W3C CSS Values 3 and PDF 32000-1: 72 points to the inch of 25.4 mm.
PT = 72.0 / 25.4


def lengths(lines: list[tuple[float, float, float, float]]) -> list[float]:
    """In mm."""
    return [math.hypot(c - a, d - b) / PT for a, b, c, d in lines]


@pytest.mark.parametrize("paper", [Paper.A4, Paper.LETTER, Paper.A0])
def test_the_test_square_and_the_seams_are_as_long_in_the_pdf_as_in_the_pattern(
    qapp: object, tmp_path: Path, paper: Paper
) -> None:
    drawing = read(SAMPLES / "allotment_shorts.svg")
    out = tmp_path / "sheets.pdf"
    save_sheets([Laid(p, Vector(0.0, 0.0)) for p in drawing.pieces], out, paper=paper)
    first, *rest = pages(out.read_bytes())
    sides = lengths(first)
    for side in (100.0, 25.4):
        near = [s for s in sides if abs(s - side) < 1e-3]
        assert len(near) >= 4, f"wanted four sides of {side} mm on the first page"
    inseam = drawing.pieces[0].edge(Role.INSEAM)
    wanted = drawing.pieces[0].edge_length(inseam)
    straight = [s for page in rest for s in lengths(page) if abs(s - wanted) < 0.5]
    assert straight, "wanted the inseam, which is one straight line, on a sheet"
    assert min(abs(s - wanted) for s in straight) < 1e-2


def test_each_sheet_is_a_page_of_its_size(qapp: object, tmp_path: Path) -> None:
    drawing = read(SAMPLES / "allotment_shorts.svg")
    out = tmp_path / "sheets.pdf"
    tiling = save_sheets([Laid(p, Vector(0.0, 0.0)) for p in drawing.pieces], out)
    data = out.read_bytes()
    assert len(re.findall(rb"/Type\s*/Page\b", data)) == len(tiling.sheets) + 1
    boxes = re.findall(rb"/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)", data)
    for wide, high in boxes:
        size = sorted((float(wide) / PT, float(high) / PT))
        assert size == pytest.approx([210.0, 297.0], abs=0.4), "whole points are good enough"


def test_a_sheet_draws_only_what_lies_on_it(qapp: object, tmp_path: Path) -> None:
    drawing = read(SAMPLES / "digging_trousers.dxf")
    out = tmp_path / "sheets.pdf"
    one, *others = drawing.pieces
    far = [Laid(one, Vector(0.0, 0.0)), *(Laid(p, Vector(3000.0, 0.0)) for p in others)]
    save_sheets(far, out)
    assert out.stat().st_size < 1_000_000


def test_the_command_saves_sheets_and_says_how_many(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "sheets.pdf"
    source = SAMPLES / "allotment_shorts.svg"
    assert main(["sheets", str(source), "--out", str(out), "--paper", "A3"]) == 0
    said = capsys.readouterr().out
    assert "sheets of A3" in said
    assert "100 %" in said
    assert out.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--out", "sheets.svg"], ".pdf"),
        (["--out", "sheets.pdf", "--margin", "12cm"], "no room"),
        (["--out", "no such folder/sheets.pdf"], "could not be saved"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    words: list[str],
    told: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["sheets", str(SAMPLES / "allotment_shorts.svg"), *words]) == 1
    assert told in capsys.readouterr().err
    assert not list(tmp_path.glob("*.pdf"))


def test_nothing_is_left_where_it_cannot_be_saved(qapp: object, tmp_path: Path) -> None:
    drawing = read(SAMPLES / "allotment_shorts.svg")
    with pytest.raises(FileError, match="could not be saved"):
        save_sheets([Laid(drawing.pieces[0], Vector(0, 0))], tmp_path / "no" / "sheets.pdf")


def test_the_window_saves_the_altered_pieces(
    make_window: Callable[[], MainWindow], answers: Answers, tmp_path: Path
) -> None:
    window = make_window()
    window.opening.open([SAMPLES / "allotment_shorts.svg"])
    type_length(window, "12 cm")
    window.way.go(Stage.PAPER)
    answers.save_file = tmp_path / "sheets.pdf"
    box = window.pages.paper.sheets
    box.paper.setCurrentText("A0")
    QTest.mouseClick(box.save, Qt.MouseButton.LeftButton)
    assert answers.suggested[-1].name == "allotment_shorts +12.0cm sheets.pdf"
    found = [s for page in pages(answers.save_file.read_bytes()) for s in lengths(page)]
    drawing = read(SAMPLES / "allotment_shorts.svg")
    front = drawing.pieces[0]
    was = front.edge_length(front.edge(Role.INSEAM))
    longer = [s for s in found if abs(s - was - 120.8) < 2.0]
    assert longer, "wanted the inseam 12 cm longer along the grain on the sheet"
    assert "2 sheets" in window.messages.all[-1] or "1 sheet" in window.messages.all[-1]
