"""The page at the right: typing, units, switching pieces, correcting edges, findings."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest

from app.window.document import EdgeId, Sheets, State
from app.window.findings import Sign, edge_middle, findings_of
from app.window.length_box import HINT, UnitSwitch
from app.window.lengths import Shown
from app.window.main import MainWindow
from app.window.outcome import outcome
from core.piece.model import Because, Role
from tests.app.hands import press, release, type_length


def edge_of(window: MainWindow, piece: str, role: Role) -> EdgeId:
    for which, found in window.session.state.sheets.pieces.items():
        if found.name == piece:
            return EdgeId(which, found.edges.index(found.edge(role)))
    raise LookupError(piece)


def pixel_of(window: MainWindow, which: EdgeId) -> QPointF:
    """The middle of an edge on the table."""
    (sight,) = (s for s in window.table.sights if s.which == which.piece)
    x, y = window.table.view.to_px(edge_middle(sight.now, which.number) + sight.spot)
    return QPointF(x, y)


def click_edge(window: MainWindow, which: EdgeId) -> None:
    at = pixel_of(window, which)
    press(window.table, at)
    release(window.table, at)


def choose_role(window: MainWindow, role: Role) -> None:
    """By the keyboard, as a person without a mouse would."""
    box = window.page.edge.role
    box.setFocus()
    # A space would open the list.
    QTest.keyClicks(box, role.value.split()[0])


def test_a_typed_length_is_one_entry(both: MainWindow) -> None:
    count = both.session.stack.count()
    type_length(both, "6 cm")
    assert both.session.settled.by_mm == 60.0
    assert both.session.stack.count() == count + 1
    assert both.page.length.edit.text() == "+6.0 cm"
    type_length(both, "-2 1/2 in")
    assert both.session.settled.by_mm == -63.5


def test_what_cannot_be_read_changes_nothing_and_says_so(both: MainWindow) -> None:
    state = both.session.settled
    type_length(both, "a bit")
    assert both.session.settled is state
    assert "cannot be read" in both.page.length.said.text()
    type_length(both, "nonsense", end=Qt.Key.Key_Escape)
    assert both.page.length.edit.text() == "0.0 cm"
    assert both.page.length.said.text() == HINT


def test_a_typed_amount_that_is_too_much_is_refused_in_a_sentence(both: MainWindow) -> None:
    type_length(both, "-80 cm")
    assert both.session.settled.by_mm == 0.0
    said = both.page.length.said.text()
    assert "!</b>" in said
    assert "Shorten by less" in said


def test_the_unit_switch_shows_inches_everywhere_and_is_no_entry(both: MainWindow) -> None:
    type_length(both, "2 1/2 in")
    count = both.session.stack.count()
    (switch,) = both.page.length.findChildren(UnitSwitch)
    QTest.mouseClick(switch.buttons[Shown.INCH], Qt.MouseButton.LeftButton)
    assert both.page.length.edit.text() == "+2 1/2 in"
    assert both.page.pieces.headerItem().text(0) == "Lengths in inches"
    assert both.session.stack.count() == count
    type_length(both, "1")
    assert both.session.settled.by_mm == 25.4


def test_the_unit_is_still_known_when_the_window_opens_again(
    both: MainWindow, make_window: object
) -> None:
    both.session.show_in(Shown.INCH)
    assert callable(make_window)
    assert make_window().session.shown is Shown.INCH


def test_figures_are_those_of_the_alteration(both: MainWindow) -> None:
    type_length(both, "10 cm")
    tree, result = both.page.pieces, outcome(both.session.state)
    row = tree.topLevelItem(0)
    assert row is not None
    (which, altered), *_ = result.altered.items()
    assert row.text(0) == altered.piece.name
    for k, figure in enumerate(altered.figures.edges):
        shown = [row.child(k).text(c) for c in range(3)]
        want = [figure.role.value, f"{figure.before_mm / 10:.1f}", f"{figure.after_mm / 10:.1f}"]
        assert shown == want
    width = row.child(len(altered.figures.edges))
    assert width.text(2) == f"{altered.figures.hem_width_after_mm / 10:.1f}"
    assert which in both.session.state.altering


def test_a_piece_switched_off_stays_as_it_is(both: MainWindow) -> None:
    type_length(both, "4 cm")
    tree = both.page.pieces
    row = tree.topLevelItem(1)
    assert row is not None
    rect = tree.visualItemRect(row)
    box = QPoint(rect.left() + 10, rect.center().y())
    QTest.mouseClick(tree.viewport(), Qt.MouseButton.LeftButton, pos=box)
    names = [a.piece.name for a in outcome(both.session.settled).altered.values()]
    assert names == ["Front"]
    assert both.session.stack.undoText() == "Leave Back as it is"
    both.session.stack.undo()
    assert len(outcome(both.session.settled).altered) == 2
    assert row.checkState(0) is Qt.CheckState.Checked


def test_a_click_on_an_edge_shows_what_it_is_and_why(both: MainWindow) -> None:
    inseam = edge_of(both, "Back", Role.INSEAM)
    click_edge(both, inseam)
    assert both.session.selected == inseam
    assert both.page.edge.role.currentText() == "inseam"
    edge = both.session.state.piece(inseam.piece).edges[inseam.number]
    assert edge.because.why in both.page.edge.why.text()
    item = both.page.pieces.currentItem()
    assert item is not None
    assert item.text(0) == "inseam"


def test_a_click_on_a_row_selects_the_edge_on_the_table(both: MainWindow) -> None:
    tree = both.page.pieces
    item = tree.topLevelItem(0).child(1)  # type: ignore[union-attr]
    at = tree.visualItemRect(item).center()
    QTest.mouseClick(tree.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert both.session.selected is not None
    assert both.session.selected.number == 1


def test_a_corrected_role_is_one_entry_and_can_be_undone(both: MainWindow) -> None:
    waist = edge_of(both, "Front", Role.WAIST)
    click_edge(both, waist)
    before = both.session.settled
    choose_role(both, Role.CENTRE_FRONT)
    edge = both.session.settled.piece(waist.piece).edges[waist.number]
    assert edge.role is Role.CENTRE_FRONT
    assert edge.because.sure
    assert both.session.stack.undoText() == "Front: this edge is the centre front"
    QTest.keyClick(both, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert both.session.settled is before


def test_a_piece_whose_hem_is_none_says_so_and_takes_no_part(both: MainWindow) -> None:
    hem = edge_of(both, "Front", Role.HEM)
    click_edge(both, hem)
    both.session.select(hem)
    choose_role(both, Role.OTHER)
    row = both.page.pieces.topLevelItem(0)
    assert row is not None
    assert row.text(0) == "Front: no hem found"
    assert both.table.grip(hem.piece) is None
    type_length(both, "5 cm")
    assert [a.piece.name for a in outcome(both.session.settled).altered.values()] == ["Back"]


def test_another_hem_keeps_the_edge_selected_that_was_meant(both: MainWindow) -> None:
    waist = edge_of(both, "Front", Role.WAIST)
    both.session.select(waist)
    choose_role(both, Role.HEM)
    selected = both.session.selected
    assert selected is not None
    assert both.session.settled.piece(selected.piece).edges[selected.number].role is Role.HEM


def test_mates_that_match_are_told_with_a_sign(both: MainWindow) -> None:
    type_length(both, "10 cm")
    told = [t for t in both.page.findings.told if "inseams" in t.sentence]
    assert [t.sign for t in told] == [Sign.WELL]


def test_mates_that_no_longer_match_are_told(both: MainWindow) -> None:
    type_length(both, "10 cm")
    back = edge_of(both, "Back", Role.HEM).piece
    both.session.commit("", both.session.settled.switched(back, on=False))
    told = [t for t in both.page.findings.told if "no longer match" in t.sentence]
    assert len(told) == 2
    assert all(t.sign is Sign.LOOK for t in told)


def test_an_unsure_thing_bears_a_question_mark_and_shows_its_place(both: MainWindow) -> None:
    both.session.begin(with_a_doubt(both))
    findings = both.page.findings
    (told,) = (t for t in findings.told if t.edge is not None)
    assert told.sign is Sign.LOOK
    item = findings.item(findings.told.index(told))
    QTest.mouseClick(
        findings.viewport(), Qt.MouseButton.LeftButton, pos=findings.visualItemRect(item).center()
    )
    assert both.session.selected == told.edge
    assert both.page.edge.yes.isVisible()
    QTest.mouseClick(both.page.edge.yes, Qt.MouseButton.LeftButton)
    assert not [t for t in findings.told if t.edge is not None], "wanted the doubt settled"


def with_a_doubt(window: MainWindow) -> State:
    """The front alone, its side seam no longer sure."""
    state = window.session.settled
    sheet = state.sheets.all[0]
    (piece,) = sheet.drawing.pieces
    doubt = Because(False, "two edges look alike")
    edges = tuple(replace(e, because=doubt) if e.role is Role.SIDE else e for e in piece.edges)
    drawing = sheet.drawing.with_piece(replace(piece, edges=edges))
    return replace(state, sheets=Sheets((replace(sheet, drawing=drawing),)))


def test_every_control_has_a_name_for_those_who_do_not_see_it(both: MainWindow) -> None:
    controls = [
        both.table, both.page.length.edit, both.page.pieces, both.page.findings,
        both.page.edge.role, both.page.edge.yes, *both.bar.buttons.values(),
    ]  # fmt: skip
    nameless = [c for c in controls if not c.accessibleName()]
    assert nameless == []


def test_a_file_full_of_doubts_lists_each_of_them_once(window: MainWindow, tmp_path: Path) -> None:
    """A row of findings long enough for a scroll bar; the grain's doubt came three times over."""
    path = tmp_path / "odd.svg"
    leg = "M 40,0 L 260,0 L 300,120 L 270,560 C 268,600 240,620 200,620 L 60,620 L 0,140 Z"
    square = "M 310,10 L 400,10 L 400,90 L 310,90 Z"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="420mm" height="640mm"'
        f' viewBox="0 0 420 640"><path d="{leg}"/><path d="{square}"/></svg>'
    )
    window.opening.open([path])
    type_length(window, "4 cm")
    assert window.messages.all == []
    told = window.page.findings.told
    once = {(t.sentence, t.edge, t.place) for t in told}
    assert window.page.findings.count() == len(told) == len(once)
    grain = [t for t in told if "page's vertical" in t.sentence and "Piece 1" in t.sentence]
    assert [t.sign for t in grain] == [Sign.LOOK]


def test_the_place_of_a_finding_is_brought_into_sight(both: MainWindow) -> None:
    both.session.begin(with_a_doubt(both))
    both.table.set_view(both.table.view.panned(5000.0, 0.0))
    (told,) = (t for t in both.page.findings.told if t.edge is not None)
    both.page.findings.itemClicked.emit(
        both.page.findings.item(both.page.findings.told.index(told))
    )
    assert told.edge is not None
    at = pixel_of(both, told.edge)
    assert 0 < at.x() < both.table.width()
    assert 0 < at.y() < both.table.height()


def test_a_taper_point_in_doubt_is_told_once(window: MainWindow, tmp_path: Path) -> None:
    """Regression: as what the file left open and as what the change goes by."""
    path = tmp_path / "skirt.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="900mm"'
        ' viewBox="0 0 900 900"><g id="skirt">'
        '<path d="M100 60H400L430 500L265 665L70 500Z"/>'
        '<path class="grain" d="M250 150v300"/></g></svg>'
    )
    window.opening.open([path])
    assert _told_of_the_taper(window) == ["•"], "wanted the note on the file before any change"
    type_length(window, "5 cm")
    assert _told_of_the_taper(window) == ["?"]


def _told_of_the_taper(window: MainWindow) -> list[str]:
    told = findings_of(window.session.state, Shown.CM)
    return [t.sign.value for t in told if "climbs steeply" in t.sentence]
