"""Under the pointer: each thing on the table is called by its name, beside its figure."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPointF
from PySide6.QtWidgets import QApplication

from app.window.document import AtLevel
from app.window.lengths import Shown
from app.window.main import MainWindow
from app.window.table.holds import Part, holds_of
from app.window.table.sights import Sight
from core.curve import Point, Vector
from core.piece.model import Kind, Role
from tests.app.hands import grip_of, hover, move, press, px, release, sight, type_length

SAMPLES = Path(__file__).parents[2] / "sample_pieces"


def said_at(window: MainWindow, at: QPointF) -> str:
    hover(window.table, at)
    label = window.table.hover
    return label.text() if label.isVisible() else ""


def said(window: MainWindow, of: Sight, p: Point) -> str:
    """What is said at a point of a piece."""
    return said_at(window, px(window, of, p))


def on_edge(of: Sight, role: Role, share: float) -> Point:
    chain = of.now.edge_chain(of.now.edge(role))
    return chain.at(chain.at_length(chain.length() * share))


def test_an_edge_is_named_with_its_length(shorts: MainWindow) -> None:
    front = sight(shorts, "Front")
    length = front.now.edge_length(front.now.edge(Role.SIDE))
    wanted = f"Front: side seam, {length / 10:.1f} cm"
    assert said(shorts, front, on_edge(front, Role.SIDE, 0.4)) == wanted
    assert said(shorts, front, front.now.outline.ring.bounds().centre + Vector(60.0, 0.0)) == ""


def test_a_changed_edge_is_named_with_both_lengths_in_the_unit_shown(shorts: MainWindow) -> None:
    type_length(shorts, "12 cm")
    front = sight(shorts, "Front")
    words = said(shorts, front, on_edge(front, Role.SIDE, 0.7))
    assert words == "Front: side seam, 38.8 → 50.8 cm"
    shorts.session.show_in(Shown.INCH)
    words = said(shorts, front, on_edge(front, Role.SIDE, 0.7))
    assert words.endswith(" in"), words
    assert " → " in words


def test_grip_taper_point_and_seam_end_are_named(shorts: MainWindow) -> None:
    type_length(shorts, "12 cm")
    assert said_at(shorts, grip_of(shorts, "Front")).startswith("Front: grip of the hem, ")
    told = set()
    for hold in holds_of(shorts.table.sights):
        at = QPointF(*shorts.table.view.to_px(hold.at))
        told.add((hold.part, said_at(shorts, at)))
    wanted = {
        (Part.TAPER, f"{name}: taper point of the {seam}")
        for name in ("Front", "Back")
        for seam in ("side seam", "inseam")
    } | {
        (Part.SEAM_END, f"{name}: end of the {seam}")
        for name in ("Front", "Back")
        for seam in ("side seam", "inseam")
    }
    assert told == wanted


def test_dart_notch_grain_and_inner_line_are_named(shorts: MainWindow) -> None:
    back, front = sight(shorts, "Back"), sight(shorts, "Front")
    (dart,) = back.now.darts
    leg = dart.mouth[0].towards(dart.apex, 0.5)
    intake = f"{dart.intake / 10:.1f}"
    assert said(shorts, back, leg).startswith(f"Back: dart, intake {intake}, legs ")
    assert back.grain_line is not None
    assert said(shorts, back, back.grain_line.start.towards(back.grain_line.end, 0.3)) == (
        "Back: grain"
    )
    notch = next(m for m in front.now.marks if m.kind is Kind.NOTCH)
    where = notch.geometry
    at = where if isinstance(where, Point) else where.bounds().centre
    assert said(shorts, front, at).startswith("Front: notch in the ")
    inner = next(m for m in front.now.marks if m.kind is Kind.INNER)
    assert not isinstance(inner.geometry, Point)
    middle = inner.geometry.at(inner.geometry.at_length(inner.geometry.length() / 2))
    assert said(shorts, front, middle) in ("Front: pocket", "Front: inner line")


def test_a_level_is_named_with_its_depth(shorts: MainWindow) -> None:
    shorts.session.set_level(AtLevel(300.0))
    shorts.session.set_by(40.0)
    front = sight(shorts, "Front")
    a, b = front.level_lines[0]
    assert said(shorts, front, a.towards(b, 0.85)) == (
        "Front: level, 30.0 cm below the highest point"
    )


def test_the_label_is_gone_while_a_hem_is_drawn_and_when_the_pointer_leaves(
    shorts: MainWindow,
) -> None:
    grip = grip_of(shorts, "Front")
    assert said_at(shorts, grip)
    press(shorts.table, grip)
    move(shorts.table, grip + QPointF(0.0, 20.0))
    assert not shorts.table.hover.isVisible()
    release(shorts.table, grip + QPointF(0.0, 20.0))
    assert said_at(shorts, grip_of(shorts, "Front"))
    QApplication.sendEvent(shorts.table, QEvent(QEvent.Type.Leave))
    assert not shorts.table.hover.isVisible()


@pytest.mark.parametrize("sample", ["barrow_trousers.dxf", "rain_breeches.svg"])
def test_the_label_stays_within_the_table_wherever_the_pointer_is(
    make_window: Callable[[], MainWindow], sample: str
) -> None:
    window = make_window()
    window.opening.open([SAMPLES / sample])
    seen = 0
    for of in window.table.sights:
        for share in (0.02, 0.5, 0.98):
            for edge in of.now.edges:
                chain = of.now.edge_chain(edge)
                p = chain.at(chain.at_length(chain.length() * share))
                if said(window, of, p):
                    seen += 1
                    rect = window.table.hover.geometry()
                    assert window.table.rect().contains(rect), f"{rect} is cut off"
    assert seen > 20
