"""What a drag paints over a kept picture is what would be painted without one."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QImage, QPainter, QPixmap
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.window.document import EdgeId
from app.window.main import MainWindow
from app.window.outcome import outcome
from app.window.table.holds import Part, holds_of
from app.window.table.painting import Painting
from app.window.ways import first_level
from core.alter.model import Change, HemWay, SeamWay
from core.piece.model import Role
from tests.app.conftest import SAMPLES
from tests.app.hands import move, press, release

# A line cut off beyond what is painted may be rounded otherwise at its edge: of 255.
ROUNDING = 4


def bytes_of(picture: QPixmap) -> np.ndarray:
    image = picture.toImage().convertToFormat(QImage.Format.Format_RGB32)
    shape = image.height(), image.width(), 4
    return np.frombuffer(image.constBits(), np.uint8).reshape(shape)[:, :, :3].astype(int)


def painted_whole(window: MainWindow) -> QPixmap:
    """The table as it is now, painted with nothing kept."""
    table = window.table
    picture = QPixmap(table.size() * table.devicePixelRatioF())
    picture.setDevicePixelRatio(table.devicePixelRatioF())
    painter = QPainter(picture)
    Painting().paint(painter, table.scene(), following=False)
    painter.end()
    return picture


def off(window: MainWindow) -> tuple[int, int]:
    """By how much, at most, what is seen differs from that; and at how many places."""
    QApplication.processEvents()
    apart = np.abs(bytes_of(window.table.grab()) - bytes_of(painted_whole(window))).max(axis=2)
    return int(apart.max()), int((apart > ROUNDING).sum())


def held(window: MainWindow) -> QPointF:
    """The middle of a grip, pressed."""
    grips = map(window.table.grip, window.session.settled.altering)
    at = QPointF(*next(g for g in grips if g is not None).middle)
    press(window.table, at)
    return at


def down(window: MainWindow, at: QPointF, mm: float) -> QPointF:
    return at + QPointF(0.0, mm * window.table.view.scale)


def drag_and_look(window: MainWindow, *, by: tuple[float, ...]) -> None:
    at = held(window)
    for mm in by:
        move(window.table, down(window, at, mm), keys=Qt.KeyboardModifier.AltModifier)
        most, places = off(window)
        assert most <= ROUNDING, f"{mm} mm: wanted at most {ROUNDING}, got {most} at {places}"
    QTest.keyClick(window.table, Qt.Key.Key_Escape)
    assert off(window) == (0, 0)


@pytest.mark.parametrize("sample", sorted(p.name for p in SAMPLES.glob("*_*.*g")))
def test_a_drag_shows_what_is(window: MainWindow, sample: str) -> None:
    window.opening.open([SAMPLES / sample])
    drag_and_look(window, by=(5.0, 31.0, 74.0, 12.0, -6.0, -33.0))


@pytest.mark.parametrize("sample", ["rain_breeches.dxf", "digging_trousers.dxf"])
def test_so_with_two_lines_from_a_change_on(window: MainWindow, sample: str) -> None:
    window.opening.open([SAMPLES / sample])
    window.session.set_by(40.0)
    drag_and_look(window, by=(3.0, 50.0, -20.0, -60.0))


@pytest.mark.parametrize(
    "change",
    [
        Change(0.0, seams=SeamWay.CURVED),
        Change(0.0, seams=SeamWay.PLUMB, hem=HemWay.SQUARE),
        Change(0.0, hem=HemWay.TRIM, balance_notch=True),
        Change(0.0, allowance_mm=10.0, hem_allowance_mm=30.0),
    ],
)
def test_so_in_every_way(shorts: MainWindow, change: Change) -> None:
    shorts.session.set_change(change)
    drag_and_look(shorts, by=(12.0, 61.0, 25.0, -18.0))


def test_so_with_a_chosen_edge_in_a_view_of_ones_own(shorts: MainWindow) -> None:
    which = shorts.session.settled.altering[0]
    edges = shorts.session.settled.piece(which).edges
    hem = next(k for k, e in enumerate(edges) if e.role is Role.HEM)
    shorts.session.select(EdgeId(which, hem))
    shorts.table.set_view(shorts.table.view.zoomed(1.3, 300.0, 500.0))
    drag_and_look(shorts, by=(8.0, 33.0, -14.0))


def test_only_what_moves_is_painted(shorts: MainWindow) -> None:
    at = held(shorts)
    move(shorts.table, down(shorts, at, 5.0))
    QApplication.processEvents()
    move(shorts.table, down(shorts, at, 15.0))
    where = shorts.table.painting.follow(shorts.table.scene())
    assert where is not None
    size = shorts.table.size()
    painted = sum(r.width() * r.height() for r in where)
    assert painted < 0.4 * size.width() * size.height()
    assert not where.contains(QPointF(200.0, 80.0).toPoint()), "wanted no waist painted anew"
    release(shorts.table, at)


def test_let_go_it_is_what_no_drag_would_have_made(shorts: MainWindow) -> None:
    at, start = held(shorts), shorts.session.settled
    for mm in (12.0, -20.0, 61.0, 35.0):
        move(shorts.table, down(shorts, at, mm))
    release(shorts.table, down(shorts, at, 35.0))
    settled = shorts.session.settled
    typed = outcome(start.by(settled.by_mm)).altered
    assert settled.by_mm == 35.0
    for which, altered in outcome(settled).altered.items():
        assert altered.piece == typed[which].piece, f"wanted {altered.piece.name} as if typed"


def dragged(window: MainWindow, at: QPointF, steps: tuple[tuple[float, float], ...]) -> None:
    """Pressed there and moved by so many pixels; all is looked at each time."""
    press(window.table, at)
    for x, y in steps:
        move(window.table, at + QPointF(x, y), keys=Qt.KeyboardModifier.AltModifier)
        most, places = off(window)
        assert most <= ROUNDING, f"{x, y}: wanted at most {ROUNDING}, got {most} at {places}"
        assert window.session.previewing
    QTest.keyClick(window.table, Qt.Key.Key_Escape)
    assert off(window) == (0, 0)


def hold_of(window: MainWindow, part: Part) -> QPointF:
    hold = next(h for h in holds_of(window.table.sights) if h.part is part)
    return QPointF(*window.table.view.to_px(hold.at))


@pytest.mark.parametrize("sample", ["allotment_shorts.dxf", "rain_breeches.svg"])
def test_so_while_a_taper_point_is_slid(window: MainWindow, sample: str) -> None:
    window.opening.open([SAMPLES / sample])
    window.session.set_by(30.0)
    dragged(window, hold_of(window, Part.TAPER), ((0.0, -9.0), (-2.0, -40.0), (0.0, -3.0)))


def test_so_while_a_seam_end_is_drawn_across(shorts: MainWindow) -> None:
    shorts.session.set_by(50.0)
    dragged(shorts, hold_of(shorts, Part.SEAM_END), ((6.0, 0.0), (-20.0, 4.0), (11.0, 0.0)))


@pytest.mark.parametrize("sample", ["raking_skirt.svg", "rain_breeches.svg", "pruning_sleeve.svg"])
@pytest.mark.parametrize("by", [40.0, -15.0])
def test_so_while_a_level_is_laid_elsewhere(window: MainWindow, sample: str, by: float) -> None:
    window.opening.open([SAMPLES / sample])
    session = window.session
    session.set_by(by)
    session.set_level(first_level(session.settled))
    grips = map(window.table.level_grip, session.settled.altering)
    at = QPointF(*next(g for g in grips if g is not None).middle)
    dragged(window, at, ((0.0, 12.0), (3.0, -21.0), (0.0, 9.0)))


@pytest.mark.parametrize("part", [Part.TAPER, Part.SEAM_END])
def test_only_what_moves_is_painted_of_seams_too(shorts: MainWindow, part: Part) -> None:
    shorts.session.set_by(30.0)
    at = hold_of(shorts, part)
    press(shorts.table, at)
    for px in (8.0, 16.0):
        move(shorts.table, at + QPointF(-px if part is Part.SEAM_END else 0.0, -px))
        QApplication.processEvents()
    where = shorts.table.painting.follow(shorts.table.scene())
    assert where is not None, "wanted the table not painted whole"
    size = shorts.table.size()
    assert sum(r.width() * r.height() for r in where) < 0.4 * size.width() * size.height()
    QTest.keyClick(shorts.table, Qt.Key.Key_Escape)


def test_a_level_let_go_is_what_typing_it_would_have_made(window: MainWindow) -> None:
    window.opening.open([SAMPLES / "raking_skirt.svg"])
    session = window.session
    session.set_by(40.0)
    session.set_level(first_level(session.settled))
    start = session.settled
    which = next(k for k in start.altering if window.table.level_grip(k) is not None)
    rect = window.table.level_grip(which)
    assert rect is not None
    at = QPointF(*rect.middle)
    press(window.table, at)
    for px in (-9.0, 14.0, -17.0):
        move(window.table, at + QPointF(0.0, px))
    release(window.table, at + QPointF(0.0, -17.0))
    assert session.settled.level != start.level
    typed = outcome(start.at(session.settled.level)).altered
    for key, altered in outcome(session.settled).altered.items():
        assert altered.piece == typed[key].piece
        assert altered.findings == typed[key].findings
        assert altered.steps == typed[key].steps


def test_so_with_labels_that_have_leads(window: MainWindow) -> None:
    window.resize(640, 360)
    window.opening.open([SAMPLES / "digging_trousers.dxf"])
    window.session.set_by(40.0)
    QApplication.processEvents()
    assert window.table.scene().notes.leads
    drag_and_look(window, by=(3.0, 50.0, -20.0))
