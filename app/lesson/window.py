"""The lesson on the screen: the table alone, a caption in large type, a dot for each step."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QColor, QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QVBoxLayout, QWidget

from app.lesson.beside import CAPTION, paint_comparison
from app.lesson.caption_edit import CaptionEdit
from app.lesson.compare import Comparison, compared
from app.lesson.paint import paint_frame
from app.lesson.script import Captions, Lesson
from app.window import theme
from core.errors import HemwardError
from core.measure import MM_PER_INCH, Unit, unbroken

CAPTION_PX = 28
# No smaller than half of what it is on 1280 x 800: that is the same screen at 200 %.
LEAST_SCALE = 0.5
SPEEDS = (0.25, 0.5, 1.0, 1.5, 2.0, 4.0)
# How long a step stands at speed 1, in ms: long enough to read two lines aloud.
STANDS_MS = 5000
KEYS = (
    "Arrow right, left: on, back. Space: play, pause. + and −: faster, slower. E: edit the"
    " caption. C: compare with the other way. H: save a handout. P: a practice sheet. Esc: leave."
)
KEYS_BESIDE = (
    "Arrow up, down: the level higher, lower. Page up, down: another piece. E: edit the caption."
    " H: save a handout. C: back to the steps. Esc: leave."
)
HINT = "? shows the keys"
# Pixels, on 1280 x 800.
DOTS_HIGH = 24
LEAST_DOTS = 0.75
# By how much, in mm, a key moves the level.
LEVEL_STEP = {Unit.CM: 10.0, Unit.INCH: MM_PER_INCH / 2}
_FORWARD = {Qt.Key.Key_Right, Qt.Key.Key_Down, Qt.Key.Key_PageDown}
_BACK = {Qt.Key.Key_Left, Qt.Key.Key_Up, Qt.Key.Key_PageUp}


class LessonWindow(QWidget):
    """Plays a lesson; one key for each thing to do. `captions` are kept by whoever opens it."""

    wants_handout = Signal()
    wants_practice = Signal()

    def __init__(
        self,
        lesson: Lesson,
        parent: QWidget | None = None,
        *,
        captions: Captions | None = None,
        unit: Unit = Unit.CM,
    ) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.lesson, self.unit = lesson, unit
        self.captions = captions if captions is not None else Captions()
        self.number, self.comparing, self.speed = 0, False, 1.0
        self._compared: dict[int, Comparison] = {}
        self.piece = 0
        self.setWindowTitle("Lesson")
        self.setAccessibleName("Lesson")
        self.setAccessibleDescription(KEYS)
        self.setObjectName("ground")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.resize(1280, 800)
        self.timer = QTimer(self)
        self.timer.timeout.connect(self._play_on)
        self._put_together()
        self.go(0)

    def _put_together(self) -> None:
        self.picture = _Picture(self)
        self.band = QWidget()
        self.band.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.band.setStyleSheet(f"background: {theme.look().sheet};")
        self.caption = QLabel()
        self.caption.setWordWrap(True)
        self.caption.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.caption.setToolTip(KEYS)
        self.edit = CaptionEdit()
        self.edit.kept.connect(self._keep_caption)
        self.edit.hide()
        self.dots = _Dots(self)
        inside = QVBoxLayout(self.band)
        inside.setContentsMargins(48, 12, 48, 12)
        for row in (self.caption, self.edit, self.dots):
            inside.addWidget(row)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.picture, 1)
        column.addWidget(self.band)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """On a larger screen the caption is larger too: it is read from the same bench. On one
        that counts its pixels several times it is as many fewer of them."""
        super().resizeEvent(event)
        larger = max(LEAST_SCALE, min(self.width() / 1280.0, self.height() / 800.0))
        px = round(CAPTION_PX * larger)
        for part in (self.caption, self.edit):
            part.setStyleSheet(f"font-size: {px}px; border: none;")
            part.setMinimumHeight(round(3 * px * 1.35))
        self.dots.enlarge(larger)
        # Or the picture would jump when one begins to write.
        self.edit.setMaximumHeight(self.edit.minimumHeight())

    @property
    def playing(self) -> bool:
        return self.timer.isActive()

    @property
    def comparison(self) -> Comparison:
        """The piece in hand changed both ways; AlterationError where it allows one only."""
        if self.piece not in self._compared:
            self._compared[self.piece] = compared(self.lesson.laid[self.piece].altered)
        return self._compared[self.piece]

    def go(self, number: int) -> None:
        """To that step, or the nearest there is."""
        self.comparing = False
        self.number = max(0, min(number, len(self.lesson.frames) - 1))
        self._say(self._caption)

    def compare(self) -> None:
        """Shows both ways beside each other, or the step again."""
        if self.comparing:
            self.go(self.number)
            return
        self.pause()
        try:
            assert self.comparison
        except HemwardError as refusal:
            self._say(str(refusal))
        else:
            self.comparing = True
            self._say(self._caption)

    @property
    def both_ways(self) -> Comparison | None:
        """The comparison for the handout; None where the piece allows one way only."""
        try:
            return self.comparison
        except HemwardError:
            return None

    def move_level(self, steps: int) -> None:
        """The level of the comparison so many steps further down; says why not, if it cannot."""
        found = self.comparison
        step = LEVEL_STEP[self.unit]
        at_mm = (round(found.at_mm / step) + steps) * step
        try:
            altered = self.lesson.laid[self.piece].altered
            self._compared[self.piece] = compared(altered, at_mm=at_mm)
        except HemwardError:
            self._say("There is no line further on at which that length can be put in.")
        else:
            self._say(self._caption)

    def compare_next(self, steps: int) -> None:
        """Another piece changed both ways."""
        self.piece = (self.piece + steps) % len(self.lesson.laid)
        self.comparing = False
        self.compare()

    def tell(self, words: str) -> None:
        """Says something in the place of the caption, until the next key."""
        if self.isVisible():
            self._say(words)

    @property
    def _sentence(self) -> str:
        """What the caption says as long as nothing else is written."""
        return CAPTION if self.comparing else self.lesson.frames[self.number].caption

    @property
    def _caption(self) -> str:
        return self.captions.instead_of(self._sentence, self.unit)

    def play(self) -> None:
        """From this step on, or from the first one when this is the last."""
        if self.number == len(self.lesson.frames) - 1:
            self.go(0)
        self.timer.start(round(STANDS_MS / self.speed))
        self.dots.update()

    def pause(self) -> None:
        self.timer.stop()
        self.dots.update()

    def faster(self, steps: int) -> None:
        """Another speed of the row; slower with a minus."""
        at = SPEEDS.index(self.speed) + steps
        self.speed = SPEEDS[max(0, min(at, len(SPEEDS) - 1))]
        if self.playing:
            self.timer.start(round(STANDS_MS / self.speed))
        self.dots.update()

    def begin_edit(self) -> None:
        """Opens the caption of the step for writing; Enter keeps it, Esc gives it up."""
        self.pause()
        self.edit.setPlainText(self._caption)
        self.caption.hide()
        self.edit.show()
        self.edit.setFocus()
        self.edit.selectAll()

    def _keep_caption(self) -> None:
        self.captions.write(self._sentence, self.edit.toPlainText())
        self._end_edit()

    def _end_edit(self) -> None:
        self.edit.hide()
        self.caption.show()
        self.setFocus()
        self._say(self._caption)

    def closeEvent(self, event: QCloseEvent) -> None:
        self.pause()
        super().closeEvent(event)

    def _play_on(self) -> None:
        self.go(self.number + 1)
        if self.number == len(self.lesson.frames) - 1:
            self.pause()

    def _say(self, words: str) -> None:
        self.caption.setText(unbroken(words))
        self.caption.setAccessibleName(words)
        self.picture.update()
        self.dots.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Each key of the lesson does one thing; other keys go on to whoever wants them."""
        key = Qt.Key(event.key())
        if key is Qt.Key.Key_Escape and self.edit.isVisible():
            self._end_edit()
        elif self.comparing and key in self._does_beside:
            self._does_beside[key]()
        elif key in _FORWARD | _BACK:
            self.pause()
            self.go(self.number + (1 if key in _FORWARD else -1))
        elif key in self._does:
            self._does[key]()
        else:
            super().keyPressEvent(event)

    @property
    def _does_beside(self) -> dict[Qt.Key, Callable[[], object]]:
        keys = Qt.Key
        return {
            keys.Key_Up: lambda: self.move_level(-1),
            keys.Key_Down: lambda: self.move_level(1),
            keys.Key_PageUp: lambda: self.compare_next(-1),
            keys.Key_PageDown: lambda: self.compare_next(1),
            keys.Key_Question: lambda: self._say(KEYS_BESIDE),
        }

    @property
    def _does(self) -> dict[Qt.Key, Callable[[], object]]:
        keys = Qt.Key
        return {
            keys.Key_Space: self.pause if self.playing else self.play,
            keys.Key_Home: lambda: self.go(0),
            keys.Key_End: lambda: self.go(len(self.lesson.frames) - 1),
            keys.Key_Plus: lambda: self.faster(1),
            keys.Key_Minus: lambda: self.faster(-1),
            keys.Key_E: self.begin_edit,
            keys.Key_C: self.compare,
            keys.Key_H: self.wants_handout.emit,
            keys.Key_P: self.wants_practice.emit,
            keys.Key_Question: lambda: self._say(KEYS),
            keys.Key_Escape: self.close,
        }


def unit_of(room: QRectF) -> float:
    """How many pixels a unit of the picture is: on a large screen lines and names are larger too,
    as it is looked at from the same bench."""
    return max(LEAST_SCALE, min(room.width() / 1280.0, room.height() / 620.0))


class _Picture(QWidget):
    """The table: the pieces and nothing else."""

    def __init__(self, lesson: LessonWindow) -> None:
        super().__init__(lesson)
        self._of = lesson
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("The pieces at this step")

    def paintEvent(self, _: QPaintEvent) -> None:
        painter = QPainter(self)
        room = QRectF(self.rect())
        painter.fillRect(room, QColor(theme.look().ground))
        unit_px = unit_of(room)
        if self._of.comparing:
            paint_comparison(painter, self._of.comparison, room, unit_px, self._of.unit)
        else:
            paint_frame(painter, self._of.lesson, self._of.number, room, unit_px)


class _Dots(QWidget):
    """A dot for each step: filled up to this one; and the speed while it plays. All of it in
    `larger` times the size that it has on 1280 x 800."""

    def __init__(self, lesson: LessonWindow) -> None:
        super().__init__(lesson)
        self._of, self._larger = lesson, 1.0
        self.setFixedHeight(DOTS_HIGH)
        self.setAccessibleName("How far the lesson is")

    def enlarge(self, larger: float) -> None:
        """It is read from the same bench as the caption; the hint is small enough as it is."""
        self._larger = max(LEAST_DOTS, larger)
        self.setFixedHeight(round(DOTS_HIGH * self._larger))

    def paintEvent(self, _: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look, count, high = theme.look(), len(self._of.lesson.frames), float(self.height())
        step = 22.0 * self._larger
        left = self.width() / 2 - step / 2 * (count - 1)
        for k in range(count):
            here = k == self._of.number and not self._of.comparing
            painter.setPen(QColor(look.quiet))
            painter.setBrush(QColor(look.quiet if k <= self._of.number else look.sheet))
            r = (7.0 if here else 4.0) * self._larger
            painter.drawEllipse(QRectF(left + step * k - r, high / 2 - r, 2 * r, 2 * r))
        painter.setFont(theme.type_of(round(13 * self._larger)))
        painter.setPen(QColor(look.quiet))
        end = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
        painter.drawText(QRectF(self.rect()), end, HINT)
        if self._of.playing:
            painter.setFont(theme.type_of(round(16 * self._larger)))
            room = QRectF(left + step * count, 0.0, 200.0 * self._larger, high)
            middle = Qt.AlignmentFlag.AlignVCenter
            painter.drawText(room, middle, f"plays at speed {self._of.speed:g}")
