"""The table: the pieces at true scale, their hems to be drawn along the grain."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, QPointF, QRect, Qt
from PySide6.QtGui import (
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QToolTip, QWidget

from app.window import theme
from app.window.document import PieceId, State
from app.window.session import Session
from app.window.table import drawing, notes
from app.window.table.cursors import cursor_over
from app.window.table.gestures import Gesture, HemDrag, LevelDrag, PanDrag
from app.window.table.ground import ZOOMS, Ground
from app.window.table.holds import Part
from app.window.table.hover import HoverLabel
from app.window.table.notes import Notes
from app.window.table.painting import Painting
from app.window.table.pointing import Under
from app.window.table.rect import Rect
from app.window.table.rulers import BREADTH
from app.window.table.scene import Scene
from app.window.table.seam_gestures import SeamEndDrag, TaperDrag
from app.window.table.sights import Sight, box_around, lie_there, sights_of
from app.window.table.tips import HELP, tip_of
from app.window.table.tools.paint import figures_of, rulers_at
from app.window.table.tools.rest import ToolRest
from app.window.table.tools.tool import Tool
from app.window.table.view import Margins, View
from core.curve import Point, Vector


class Table(Ground):
    """Shows a session and lets it be worked on. ``place`` is what a finding points at, if any."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session
        self._sights: tuple[Sight, ...] = ()
        self._notes: Notes | None = None
        self._gesture: Gesture | None = None
        self._space = False
        self._laid_out = session.state
        self._place: Point | None = None
        self.painting = Painting()
        self.hover = HoverLabel(self)
        self.tools = ToolRest(session, self)
        self.tools.changed.connect(self._after_tool)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(200, 120)
        self.setAccessibleName("Table")
        self.setAccessibleDescription(HELP)
        session.state_shown.connect(self._look_again)
        session.sheets_shown.connect(self._fit_others)
        session.unit_shown.connect(self._look_again)
        session.edge_selected.connect(self.update)

    # What is seen

    def _after_looking(self) -> None:
        self._notes = None
        self.hover.hide()

    def fit(self) -> None:
        """Shows everything that lies on the table."""
        self._sights, self._notes = sights_of(self._shown_state), None
        box = box_around(self._sights)
        if box is not None:
            fitted = View.fitted(box, self.width(), self.height(), self._margins)
            self.set_view(fitted, own=False)
        self.update()

    def _fit_others(self) -> None:
        """What is said of pieces that lie there already does not lead the eye away from them."""
        if not lie_there(self._sights, self._shown_state):
            self.fit()

    def show_place(self, which: PieceId, p: Point) -> None:
        """Rings a place on a piece, and brings it into sight."""
        spot = next((s.spot for s in self._sights if s.which == which), None)
        self._place, self._notes = None if spot is None else p + spot, None
        if self._place and not self._room.holds(*self._view.to_px(self._place)):
            self.set_view(self._view.centred(self._place, self.width(), self.height()))
        self.update()

    def grip(self, which: PieceId) -> Rect | None:
        """Where the grip on that piece's hem is, in pixels."""
        return self._written().grips.get(which)

    def level_grip(self, which: PieceId) -> Rect | None:
        """Where the grip on that piece's level is, in pixels; None when there is no level."""
        return self._written().level_grips.get(which)

    @property
    def sights(self) -> tuple[Sight, ...]:
        return self._sights

    def _look_again(self) -> None:
        self._laid_out = self._shown_state
        self._sights = sights_of(self._laid_out)
        self.tools.follow(self._sights)
        self._notes = self._following_notes()
        self._place = None
        self.hover.hide()
        if self._gesture is None and not self._own_view and not self._all_in_sight():
            self.fit()
        moved = self.painting.follow(self.scene()) if self._session.previewing else None
        self.update() if moved is None else self.update(moved)

    def _all_in_sight(self) -> bool:
        box = box_around(self._sights)
        if box is None:
            return True
        x0, y0 = self._view.to_px(Point(box.x0, box.y0))
        x1, y1 = self._view.to_px(Point(box.x1, box.y1))
        # Somewhat less than is kept free when all is fitted in, or that would never be enough.
        free = 0.9 * min(self._margins.right, self._margins.top - BREADTH)
        hangs = max(free, self._margins.hangs) - free
        return Rect(x0, y0, x1, y1 + hangs).inside(self._room.grown(-free))

    @property
    def _margins(self) -> Margins:
        return Margins.beside_rulers(BREADTH, self.width(), self.height())

    @property
    def _room(self) -> Rect:
        return Rect(BREADTH, BREADTH, self.width(), self.height())

    def _pointed_at(self) -> list[Rect]:
        if self._place is None:
            return []
        x, y = self._view.to_px(self._place)
        return [Rect.about(x + drawing.PLACE / 2, y - drawing.PLACE / 2, 48, 48)]

    def _following_notes(self) -> Notes | None:
        """While a gesture lasts, what was written a moment ago with its new figures."""
        if self._notes is None or not self._session.previewing:
            return None
        return notes.notes_following(self._notes, self._sights, self._view, self._session.shown)

    def _written(self) -> Notes:
        if self._notes is None:
            self._notes = notes.notes_for(
                self._sights,
                self._view,
                self._room,
                self._session.shown,
                taken=(*self._pointed_at(), *self._measured_at()),
            )
        return self._notes

    # Tools

    def pick_up(self, tool: Tool) -> None:
        """Puts a tool in hand; the keys go to the table then."""
        self.setFocus()
        self.hover.hide()
        self.tools.pick_up(tool)

    @property
    def _shown_state(self) -> State:
        """What lies on the table: a correction is made on the pieces as they were."""
        tool, state = self.tools.tool, self._session.state
        return state.as_it_was if tool is not None and tool.on_original else state

    def _after_tool(self) -> None:
        if self._laid_out is not self._shown_state:
            self._look_again()
        if not self._session.previewing:
            self._notes = None
        self.update()

    def _figures(self) -> dict[tuple[int, str], Rect]:
        """Where the figures of the tool in hand go: off the grips."""
        tool, shown = self.tools.tool, self._session.shown
        if tool is None:
            return {}
        grips = notes.grips_of(self._sights, self._view, shown)
        rects = tuple(grips.values())
        return figures_of(tool, self._sights, self._view, shown, room=self._room, taken=rects)

    def _measured_at(self) -> list[Rect]:
        """Where figures and rulers are, off which the labels keep."""
        tool = self.tools.tool
        if tool is None:
            return []
        rulers = rulers_at(tool, self._sights, self._view, self._session.shown)
        return [*self._figures().values(), *rulers]

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        self.painting.paint(painter, self.scene(), following=self._session.previewing)
        painter.end()

    def scene(self) -> Scene:
        """All that is painted now."""
        held = self._gesture if isinstance(self._gesture, HemDrag | LevelDrag) else None
        return Scene(
            self.width(),
            self.height(),
            self.devicePixelRatioF(),
            theme.look().dark,
            self._view,
            self._session.shown,
            self._sights,
            self._written(),
            self._session.selected,
            self._place,
            self.tools.tool,
            self._figures(),
            _held(held),
        )

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._notes = None
        if not self._own_view:
            self.fit()

    # The pointer

    def _under(self, at: QPointF) -> Under:
        return Under(self._sights, self._view, self._written(), at.x(), at.y())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        at, button = event.position(), event.button()
        if self._gesture is not None:
            return
        if button is Qt.MouseButton.MiddleButton or (
            button is Qt.MouseButton.LeftButton and self._space
        ):
            self._gesture = PanDrag(at)
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        elif button is Qt.MouseButton.LeftButton:
            self._press(at)
        self.update()

    def _press(self, at: QPointF) -> None:
        if self.tools.tool is not None:
            self.tools.aim(self._view, at.x(), at.y())
            self.tools.take()
            return
        under = self._under(at)
        hem, level = under.hem_grip, under.level_grip
        hold = None if hem or level else under.hold
        self.hover.hide()
        if hem is None and level is None and hold is None:
            self._session.select(under.edge)
            return
        self._session.commit_preview()
        if hold is not None:
            drag = TaperDrag if hold.part is Part.TAPER else SeamEndDrag
            self._gesture = drag(self._session, hold, under.here)
        elif hem is not None:
            self._gesture = HemDrag(self._session, hem, under.here, self._down(hem))
        elif level is not None:
            self._gesture = LevelDrag(self._session, level, under.here, self._down(level))

    def _down(self, which: PieceId) -> Vector:
        return self._session.state.piece(which).grain.down

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        at = event.position()
        if self._gesture is None:
            self._point_at(at)
            return
        view = self._gesture.move(at, self._view, event.modifiers())
        if view is not self._view:
            self.set_view(view)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._gesture is not None and not event.buttons():
            gesture, self._gesture = self._gesture, None
            gesture.finish()
            self._look_again()
            self._show_cursor(self._under(event.position()))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.mousePressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """In another look what is written has another ink."""
        super().changeEvent(event)
        if event.type() is QEvent.Type.PaletteChange:
            self._notes = None

    def _point_at(self, at: QPointF) -> None:
        """Nothing is held: says what lies there, or what the tool in hand would take."""
        if self.tools.tool is not None and not self._space:
            self.setCursor(Qt.CursorShape.CrossCursor)
            self.hover.say(self.tools.aim(self._view, at.x(), at.y()), at)
            self.update()
            return
        under = self._under(at)
        self._show_cursor(under)
        self.hover.say("" if self._space else under.words(self._session.shown), at)

    def _show_cursor(self, under: Under) -> None:
        open_hand = Qt.CursorShape.OpenHandCursor
        self.setCursor(open_hand if self._space else cursor_over(under, self._down))

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.hover.hide()

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent):
            self._tell(event.pos(), event.globalPos())
            return True
        return super().event(event)

    def _tell(self, at: QPoint, on_screen: QPoint) -> None:
        tip = tip_of(self._under(QPointF(at)))
        if tip:
            QToolTip.showText(on_screen, tip, self, QRect(at, at))
        else:
            QToolTip.hideText()

    # The keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if self._gesture is None and self.tools.key(event):
            return
        if key == Qt.Key.Key_Escape:
            self._give_back()
        elif key == Qt.Key.Key_Space:
            self._space = True
            self.setCursor(Qt.CursorShape.OpenHandCursor)
        elif key in (Qt.Key.Key_Down, Qt.Key.Key_Up) and self._gesture is None:
            self._nudge(key, event.modifiers())
        elif key in ZOOMS:
            self.zoom(ZOOMS[Qt.Key(key)])
        elif key in (Qt.Key.Key_F, Qt.Key.Key_0):
            self.fit()
        else:
            super().keyPressEvent(event)

    def _nudge(self, key: int, keys: Qt.KeyboardModifier) -> None:
        """One step; a key held down is one gesture that ends when it is let go."""
        if not self._session.state.altering:
            return
        shown = self._session.shown
        leap = keys & Qt.KeyboardModifier.ShiftModifier
        step = shown.leap_mm if leap else shown.fine_mm
        side = 1.0 if key == Qt.Key.Key_Down else -1.0
        self._session.preview_by(self._session.state.by_mm + side * step)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if event.isAutoRepeat():
            return
        if event.key() == Qt.Key.Key_Space:
            self._space = False
            self.unsetCursor()
        elif event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up) and self._gesture is None:
            self._session.commit_preview()
        else:
            super().keyReleaseEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self._space = False
        if self._gesture is None:
            self._session.commit_preview()
        super().focusOutEvent(event)

    def _give_back(self) -> None:
        if self._gesture is not None:
            gesture, self._gesture = self._gesture, None
            gesture.cancel()
            self.unsetCursor()
        elif self._session.state is not self._session.settled:
            self._session.cancel()
        else:
            self._place, self._notes = None, None
            self._session.select(None)
        self.update()


def _held(drag: HemDrag | LevelDrag | None) -> tuple[PieceId | None, PieceId | None]:
    """Whose hem is held, and whose level."""
    which = drag.which if drag else None
    return (None, which) if isinstance(drag, LevelDrag) else (which, None)
