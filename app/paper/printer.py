"""The true-scale sheets sent to a printer: the same pages as in the PDF."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QMarginsF, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from app.paper.pattern import Laid
from app.paper.sheets import draw_page
from core.errors import PaperError
from core.measure import MM_PER_INCH
from core.paper.formats import MARGIN, OVERLAP, Size
from core.paper.tiling import Tiling, tiled

MM = QPageLayout.Unit.Millimeter


def new_printer(paper: Size | None = None, *, lying: bool = False) -> QPrinter:
    """The printer that the system prints on, to be asked about; with that paper in it, if given."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    if paper is not None:
        printer.setPageSize(QPageSize(QSizeF(*paper), QPageSize.Unit.Millimeter))
    printer.setPageOrientation(_orientation(lying=lying))
    return printer


def pages_on(printer: QPrinter, laid: Sequence[Laid]) -> Tiling:
    """How the pieces lie on the paper of that printer, off the borders that it leaves white.

    PaperError when they cannot be laid on it.
    """
    layout = printer.pageLayout()
    layout.setUnits(MM)
    white = layout.minimumMargins()
    margin = max(MARGIN, white.left(), white.top(), white.right(), white.bottom())
    outlines = [one.outline() for one in laid]
    return tiled(outlines, _paper_of(printer), margin=margin, overlap=OVERLAP)


def print_sheets(
    laid: Sequence[Laid],
    printer: QPrinter,
    *,
    breathe: Callable[[], object] = lambda: None,
) -> int:
    """Sends the pieces true to scale, on the paper that the printer has and as many pages as were
    asked of it, the test square being the first; tells how many were sent.

    `breathe` is called after each page; what it raises ends it, and the printing is called off.
    PaperError when the pieces cannot be laid on that paper, or the printer takes no page.
    """
    tiling, upright = pages_on(printer, laid), _paper_of(printer)
    wanted = _wanted(printer, 1 + len(tiling.sheets))
    printer.setDocName(", ".join(one.piece.name for one in laid))
    # From the corner of the paper itself, whatever of its border stays white.
    printer.setFullPage(True)
    printer.setPageMargins(QMarginsF(0.0, 0.0, 0.0, 0.0), MM)
    _lay(printer, tiling, wanted[0], upright)
    painter = QPainter()
    if not painter.begin(printer):
        raise _no_page()
    painter.scale(printer.logicalDpiX() / MM_PER_INCH, printer.logicalDpiY() / MM_PER_INCH)
    try:
        for number in wanted:
            if number != wanted[0]:
                breathe()
                _lay(printer, tiling, number, upright)
                if not printer.newPage():
                    raise _no_page()
            draw_page(painter, tiling, laid, number, upright=upright)
    except BaseException:
        printer.abort()
        raise
    finally:
        painter.end()
    return len(wanted)


def _wanted(printer: QPrinter, pages: int) -> range:
    """The numbers of the pages, from 0."""
    if printer.printRange() is not QPrinter.PrintRange.PageRange:
        return range(pages)
    found = range(max(printer.fromPage(), 1) - 1, min(printer.toPage() or pages, pages))
    if not found:
        raise PaperError(f"There are {pages} pages. Choose which of these to print.")
    return found


def _lay(printer: QPrinter, tiling: Tiling, number: int, upright: Size) -> None:
    """The test square stands upright, and the sheets as the tiling has them."""
    lying = number > 0 and tiling.paper != upright
    printer.setPageOrientation(_orientation(lying=lying))


def _orientation(*, lying: bool) -> QPageLayout.Orientation:
    ways = QPageLayout.Orientation
    return ways.Landscape if lying else ways.Portrait


def _paper_of(printer: QPrinter) -> Size:
    """In mm, upright."""
    size = printer.pageLayout().pageSize().size(QPageSize.Unit.Millimeter)
    return Size(size.width(), size.height())


def _no_page() -> PaperError:
    return PaperError(
        "The printer does not take the page. See that it is on and has paper, or save the sheets"
        " as a PDF."
    )
