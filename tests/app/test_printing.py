"""What goes to a printer: the true-scale sheets, and a picture of the table."""

# ruff: noqa: N802
# Qt calls what stands in for a printer by its own names.

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QMarginsF, QSizeF
from PySide6.QtGui import QImage, QPageLayout, QPageSize
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QApplication

from app.paper.pattern import Laid
from app.paper.printer import new_printer, pages_on, print_sheets
from app.window import theme
from app.window.ask import Ask
from app.window.busy import StoppedError
from app.window.lengths import Shown
from app.window.main import MainWindow
from app.window.printing import picture_of
from app.window.way.stage import Stage
from core.curve import Vector
from core.errors import PaperError
from core.files import read
from core.paper.formats import Paper
from core.piece.model import Role
from tests.app.conftest import SAMPLES
from tests.app.hands import Answers, click, type_length
from tests.app.pdf_lines import pages
from tests.app.test_sheets import PT, lengths


def laid() -> list[Laid]:
    return [Laid(p, Vector(0.0, 0.0)) for p in read(SAMPLES / "allotment_shorts.svg").pieces]


def counted(path: Path) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", path.read_bytes()))


def only_pages(first: int, last: int) -> Callable[[QPrinter], None]:
    def choose(printer: QPrinter) -> None:
        printer.setPrintRange(QPrinter.PrintRange.PageRange)
        printer.setFromTo(first, last)

    return choose


def sizes(path: Path) -> list[tuple[float, float]]:
    """Of the pages, in mm."""
    boxes = re.findall(rb"/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)", path.read_bytes())
    return [(float(w) / PT, float(h) / PT) for w, h in boxes]


@pytest.fixture
def trousers(window: MainWindow) -> MainWindow:
    window.opening.open([SAMPLES / "allotment_shorts.svg"])
    type_length(window, "12 cm")
    window.way.go(Stage.PAPER)
    QApplication.processEvents()
    return window


@pytest.mark.parametrize("paper", [Paper.A4, Paper.LETTER, Paper.A0])
@pytest.mark.parametrize("dpi", [300, 1200])
def test_a_printer_gets_the_test_square_and_the_seams_true_to_scale(
    qapp: object, tmp_path: Path, paper: Paper, dpi: int
) -> None:
    out = tmp_path / "printed.pdf"
    printer = new_printer(paper.size)
    printer.setOutputFileName(str(out))
    printer.setResolution(dpi)
    tiling = pages_on(printer, laid())
    assert print_sheets(laid(), printer) == 1 + len(tiling.sheets) == counted(out)
    first, *rest = pages(out.read_bytes())
    # A printer's dots are the finest it can tell.
    dot = 25.4 / dpi
    for side in (100.0, 25.4):
        near = [s for s in lengths(first) if abs(s - side) < dot]
        assert len(near) >= 4, f"wanted four sides of {side} mm on the first page"
    front = laid()[0].piece
    wanted = front.edge_length(front.edge(Role.INSEAM))
    straight = [s for page in rest for s in lengths(page) if abs(s - wanted) < 0.5]
    assert min(abs(s - wanted) for s in straight) < 2 * dot
    for size in sizes(out):
        assert sorted(size) == pytest.approx(sorted(paper.size), abs=0.4)


def test_a_square_is_as_high_as_wide_on_a_printer_in_which_one_has_put_other_paper(
    trousers: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    """The sheets are divided by the paper that the printer has, not by what was chosen before."""
    answers.print_to = tmp_path / "printed.pdf"
    answers.set_printer = lambda p: p.setPageSize(QPageSize(QPageSize.PageSizeId.A3))
    box = trousers.pages.paper.sheets
    box.paper.setCurrentText("A4")
    click(box.print)
    assert answers.asked[-1] == "printer"
    a3 = [sorted(s) for s in sizes(answers.print_to)]
    assert a3 == [pytest.approx([297.0, 420.0], abs=0.4)] * counted(answers.print_to)
    assert counted(answers.print_to) < answers.pages_offered
    squares = [
        (abs(c - a) / PT, abs(d - b) / PT)
        for a, b, c, d in pages(answers.print_to.read_bytes())[0]
        if abs(abs(c - a) + abs(d - b) - 100.0 * PT) < 0.1
    ]
    assert sum(w > 99.0 for w, _ in squares) == sum(h > 99.0 for _, h in squares) == 2
    said = trousers.messages.all[-1]
    assert "test square" in said
    assert "fits to the page" in said


def test_the_test_square_can_be_printed_alone(
    trousers: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    answers.print_to, answers.set_printer = tmp_path / "printed.pdf", only_pages(1, 1)
    click(trousers.pages.paper.sheets.print)
    assert counted(answers.print_to) == 1
    assert "1 page was sent" in trousers.messages.all[-1]
    assert "10 cm are not 10 cm" in trousers.messages.all[-1]
    assert answers.pages_offered > 5
    trousers.session.show_in(Shown.INCH)
    click(trousers.pages.paper.sheets.print)
    assert "1 in is not 1 in" in trousers.messages.all[-1]


def test_pages_that_are_not_there_are_refused(
    trousers: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    answers.print_to, answers.set_printer = tmp_path / "printed.pdf", only_pages(70, 80)
    click(trousers.pages.paper.sheets.print)
    assert not answers.print_to.exists()
    assert "Choose which of these to print" in trousers.messages.all[-1]


def test_no_answer_prints_nothing(trousers: MainWindow, answers: Answers) -> None:
    said = list(trousers.messages.all)
    click(trousers.pages.paper.sheets.print)
    trousers.bench.print_picture()
    assert answers.asked[-2:] == ["printer", "printer"]
    assert trousers.messages.all == said


@pytest.mark.qt_log_ignore("propagateSizeHints", "Returned false", extend=True)
def test_a_printer_that_takes_no_page_is_told(
    trousers: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    answers.print_to = tmp_path / "no such folder" / "printed.pdf"
    click(trousers.pages.paper.sheets.print)
    assert "does not take the page" in trousers.messages.all[-1]
    trousers.bench.print_picture()
    assert "does not take the page" in trousers.messages.all[-1]


def test_a_printer_that_leaves_a_broad_white_border_gets_no_line_there(qapp: object) -> None:
    printer = new_printer(Paper.A4.size)
    layout = printer.pageLayout()
    layout.setUnits(QPageLayout.Unit.Millimeter)
    layout.setMinimumMargins(QMarginsF(14.0, 14.0, 14.0, 18.0))

    class Bordered:
        def pageLayout(self) -> QPageLayout:
            return layout

    assert pages_on(Bordered(), laid()).margin == pytest.approx(18.0)  # type: ignore[arg-type]
    assert pages_on(printer, laid()).margin == 10.0


def test_printing_given_up_is_called_off(qapp: object, tmp_path: Path) -> None:
    class Printer(QPrinter):
        called_off = False

        def abort(self) -> bool:
            self.called_off = True
            return super().abort()

    printer = Printer(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    drawn: list[int] = []

    def breathe() -> None:
        drawn.append(1)
        if len(drawn) == 3:
            raise InterruptedError

    with pytest.raises(InterruptedError):
        print_sheets(laid(), printer, breathe=breathe)
    assert printer.called_off
    assert not printer.paintingActive()


def test_of_printing_given_up_it_is_told_that_pages_may_come(
    trousers: MainWindow, answers: Answers, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def given_up(*_: object, **__: object) -> int:
        raise StoppedError("Printing the sheets was given up. Everything is as it was.")

    monkeypatch.setattr(sys.modules["app.paper.printer"], "print_sheets", given_up)
    answers.print_to = tmp_path / "printed.pdf"
    click(trousers.pages.paper.sheets.print)
    assert "may still come out" in trousers.messages.all[-1]


def test_pieces_too_large_for_the_paper_are_refused(qapp: object, tmp_path: Path) -> None:
    printer = new_printer()
    printer.setPageSize(QPageSize(QSizeF(30.0, 30.0), QPageSize.Unit.Millimeter))
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    with pytest.raises(PaperError, match=r"sheets|room"):
        print_sheets(laid(), printer)


@pytest.fixture
def light_again() -> Iterator[None]:
    yield
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    theme.put_on(app)


def test_a_picture_of_the_table_goes_to_a_printer(
    trousers: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    answers.print_to = tmp_path / "picture.pdf"
    action = next(a for a in trousers.view_menu.actions() if a.text() == "Print a picture …")
    action.trigger()
    assert counted(answers.print_to) == 1
    (wide, high), *_ = sizes(answers.print_to)
    assert wide > high, "wanted the page lying, as the table does"
    assert "not to scale" in trousers.messages.all[-1]


@pytest.mark.usefixtures("light_again")
def test_a_picture_of_a_dark_table_is_printed_on_white(trousers: MainWindow) -> None:
    """It was printed as it is seen: a page full of black ink."""
    light = grey(trousers)
    trousers.viewing.wear(dark=True)
    QApplication.processEvents()
    dark = grey(trousers)
    assert np.median(dark) > 230
    assert dark.shape == light.shape
    assert (np.abs(dark.astype(int) - light) > 40).mean() < 1e-3
    assert theme.look() is theme.DARK


def grey(window: MainWindow) -> np.ndarray:
    image = picture_of(window.table).toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine())
    return np.array(rows[:, : image.width()])


def test_the_question_for_a_printer_is_that_of_the_system(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    seen: list[tuple[str, int, int]] = []

    def accept(dialog: QPrintDialog) -> int:
        seen.append((dialog.windowTitle(), dialog.minPage(), dialog.maxPage()))
        dialog.printer().setOutputFileName(str(tmp_path / "printed.pdf"))
        return 1

    monkeypatch.setattr(QPrintDialog, "exec", accept)
    printer = new_printer(Paper.A4.size)
    assert Ask(window).printer(printer, "Print the sheets", pages=12)
    assert seen == [("Print the sheets", 1, 12)]
    monkeypatch.setattr(QPrintDialog, "exec", lambda _: 0)
    assert not Ask(window).printer(printer, "Print a picture")
