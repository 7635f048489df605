"""The lesson on paper and as pictures, from the same steps: PDF, PNG, and a practice sheet."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from PySide6.QtCore import QBuffer, QMarginsF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QImage,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
)

from app.lesson.beside import CAPTION, paint_comparison
from app.lesson.compare import Comparison
from app.lesson.paint import Fitted, paint_before, paint_frame, write_name
from app.lesson.script import Captions, Lesson
from app.lesson.svg import CAUTION, frame_svg
from app.window import theme
from core.files.write import make_folder, save_bytes
from core.measure import Unit, unbroken

PNG_SIZE = (1600, 1000)
MARGIN_MM = 12.0
# A sheet of paper is drawn as wide as this many pixels of the screen.
UNITS_ACROSS = 1280.0
CAPTION_PX, NOTE_PX = 28, 18
CAPTION_LINES = 3.0
DPI = 300


class Paper(Enum):
    """The sizes of paper of a handout."""

    A4 = "a4"
    LETTER = "letter"


_SIZES = {
    Paper.A4: QPageSize.PageSizeId.A4,
    Paper.LETTER: QPageSize.PageSizeId.Letter,
}
Draw = Callable[[QPainter, QRectF, float], None]


@dataclass(frozen=True)
class Page:
    """A page: what it says, what it shows, and what stands at the left of its foot."""

    caption: str
    draw: Draw
    foot: str


def pages_of(
    lesson: Lesson, captions: Captions, unit: Unit, *, beside: Comparison | None = None
) -> tuple[Page, ...]:
    """One page for each step; a last one with both ways beside each other, if given."""
    steps = tuple(_step_page(lesson, captions, unit, k) for k in range(len(lesson.frames)))
    return steps if beside is None else (*steps, _beside_page(beside, captions, unit))


def _beside_page(found: Comparison, captions: Captions, unit: Unit) -> Page:
    def draw(painter: QPainter, room: QRectF, unit_px: float) -> None:
        paint_comparison(painter, found, room, unit_px, unit)

    return Page(captions.instead_of(CAPTION, unit), draw, "Both ways")


def _step_page(lesson: Lesson, captions: Captions, unit: Unit, number: int) -> Page:
    def draw(painter: QPainter, room: QRectF, unit_px: float) -> None:
        paint_frame(painter, lesson, number, room, unit_px)

    foot = f"Step {number + 1} of {len(lesson.frames)}"
    return Page(captions.of(lesson.frames[number], unit), draw, foot)


def practice_pages(lesson: Lesson, unit: Unit) -> tuple[Page, ...]:
    """The pieces as they were with the question; the answer on the next page."""

    def asked(painter: QPainter, room: QRectF, unit_px: float) -> None:
        fitted = Fitted.into(lesson.box, room, unit_px)
        painter.save()
        hand = fitted.hand(painter)
        for laid in lesson.laid:
            painter.save()
            painter.translate(laid.spot.x, laid.spot.y)
            paint_before(hand, laid)
            painter.restore()
        painter.restore()
        for laid in lesson.laid:
            write_name(painter, fitted, laid)

    def answer(painter: QPainter, room: QRectF, unit_px: float) -> None:
        paint_frame(painter, lesson, len(lesson.frames) - 1, room, unit_px)

    told = "The answer: each seam goes on by its own fit line, and the hem between them."
    if lesson.laid[0].altered.level is not None:
        told = "The answer: the lower part moves along the grain, and the seams are trued."
    return (
        Page(lesson.question(unit), asked, "Practice sheet"),
        Page(told, answer, "Practice sheet, the answer"),
    )


def save_pdf(
    pages: Sequence[Page],
    path: Path,
    *,
    paper: Paper = Paper.A4,
    breathe: Callable[[], object] = lambda: None,
) -> None:
    """Saves the pages, lying; FileError when the file cannot be written.

    `breathe` is called after each page; what it raises ends it, and nothing is saved.
    """
    buffer = QBuffer()
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(DPI)
    writer.setPageSize(QPageSize(_SIZES[paper]))
    writer.setPageOrientation(QPageLayout.Orientation.Landscape)
    margins = QMarginsF(MARGIN_MM, MARGIN_MM, MARGIN_MM, MARGIN_MM)
    writer.setPageMargins(margins, QPageLayout.Unit.Millimeter)
    writer.setTitle("Lesson")
    painter = QPainter(writer)
    try:
        for k, page in enumerate(pages):
            if k:
                breathe()
                writer.newPage()
            _paint_page(painter, page, QRectF(painter.viewport()))
    finally:
        painter.end()
    save_bytes(path, bytes(buffer.data().data()))


def save_pictures(
    lesson: Lesson,
    captions: Captions,
    folder: Path,
    unit: Unit,
    *,
    beside: Comparison | None = None,
    breathe: Callable[[], object] = lambda: None,
) -> None:
    """Saves each step as ``step_1.png`` and ``step_1.svg`` and so on in the folder; both ways
    beside each other, if given, as ``both_ways.png``.

    `breathe` is called after each; what it raises ends it, and nothing is saved.
    """
    made: dict[str, bytes] = {}
    for k, page in enumerate(pages_of(lesson, captions, unit)):
        made[f"step_{k + 1}.png"] = _png(page)
        made[f"step_{k + 1}.svg"] = frame_svg(lesson, k, page.caption)
        breathe()
    if beside is not None:
        made["both_ways.png"] = _png(_beside_page(beside, captions, unit))
    make_folder(folder)
    for name, data in made.items():
        save_bytes(folder / name, data)


def _png(page: Page) -> bytes:
    image = QImage(*PNG_SIZE, QImage.Format.Format_RGB32)
    image.fill(QColor(theme.LIGHT.sheet))
    painter = QPainter(image)
    _paint_page(painter, page, QRectF(image.rect()).adjusted(20, 20, -20, -20))
    painter.end()
    buffer = QBuffer()
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    # PySide takes the name of a format as text, and says in its types that it wants bytes.
    image.save(buffer, "PNG")  # type: ignore[call-overload]
    return bytes(buffer.data().data())


def _paint_page(painter: QPainter, page: Page, whole: QRectF) -> None:
    """The caption above, the picture, and the caution below; on white, whatever the screen is."""
    unit_px = whole.width() / UNITS_ACROSS
    with theme.lent(theme.LIGHT):
        head, foot = CAPTION_LINES * CAPTION_PX * 1.35 * unit_px, 2 * NOTE_PX * unit_px
        _write_caption(painter, page.caption, _top(whole, head), unit_px)
        page.draw(painter, whole.adjusted(0, head, 0, -foot), unit_px)
        painter.setFont(theme.type_of(round(NOTE_PX * unit_px)))
        painter.setPen(QColor(theme.look().quiet))
        low = QRectF(whole.left(), whole.bottom() - foot, whole.width(), foot)
        bottom = Qt.AlignmentFlag.AlignBottom
        painter.drawText(low, bottom | Qt.AlignmentFlag.AlignLeft, page.foot)
        painter.drawText(
            low, bottom | Qt.AlignmentFlag.AlignRight, f"Not true scale, not for cutting: {CAUTION}"
        )


def _top(whole: QRectF, height: float) -> QRectF:
    return QRectF(whole.left(), whole.top(), whole.width(), height)


def _write_caption(painter: QPainter, words: str, room: QRectF, unit_px: float) -> None:
    """In type of 28, or as much smaller as a long caption needs to fit."""
    words = unbroken(words)
    flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
    for px in range(CAPTION_PX, 9, -1):
        font = theme.type_of(round(px * unit_px))
        # Measured on the sheet itself: its resolution is not the screen's.
        metrics = QFontMetricsF(font, painter.device())
        if metrics.boundingRect(room, flags, words).height() <= room.height():
            break
    painter.setFont(font)
    painter.setPen(QColor(theme.look().ink))
    painter.drawText(room, flags, words)
