"""What is written at the edges finds room: beside them, turned along them, or with a lead."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from PySide6.QtGui import QImage

from app.window.document import AtLevel, EdgeId
from app.window.lengths import Shown
from app.window.main import MainWindow
from app.window.table.edge_notes import SAME
from app.window.table.holds import holds_of
from app.window.table.labels import crosses
from app.window.table.leads import clear, lead, round_about
from app.window.table.note import Note
from app.window.table.rect import Rect
from app.window.table.rulers import BREADTH
from core.curve import Point
from core.piece.model import Role
from tests.app.conftest import SAMPLES
from tests.app.test_small_screens import notes, pump, settle

ALL = sorted(p.name for p in SAMPLES.iterdir() if p.suffix in {".svg", ".dxf"})


def told(window: MainWindow) -> set[EdgeId]:
    """The edges that a label tells of, alone or for both of two that are sewn together."""
    sights = {s.which: s for s in window.table.sights}
    out: set[EdgeId] = set()
    for note in notes(window).labels:
        if note.edge is not None:
            out.add(EdgeId(note.which, note.edge))
            out |= {*sights[note.which].sewn.get(note.edge, ())}
    return out


def changed(window: MainWindow) -> dict[EdgeId, str]:
    """The edges with a name whose length changes, and what they are called."""
    out = {}
    for sight in window.table.sights:
        if sight.altered is None or sight.led:
            continue
        for index, edge in enumerate(sight.now.edges):
            figure = sight.altered.figures.edges[index]
            longer = abs(figure.after_mm - figure.before_mm)
            if edge.role is not Role.OTHER and longer >= SAME:
                out[EdgeId(sight.which, index)] = f"{sight.name}: {edge.role.value}"
    return out


def untold(window: MainWindow) -> list[str]:
    found = told(window)
    return [name for edge, name in changed(window).items() if edge not in found]


def words(note: Note) -> str:
    return f"{' '.join(note.lines)} of {note.which.key}"


def faults(window: MainWindow) -> list[str]:
    """What of the labels, grips, diamonds and leads lies over what, or outside the table."""
    found, table = notes(window), window.table
    room = Rect(float(BREADTH), float(BREADTH), float(table.width()), float(table.height()))
    things = {words(n): r for n, r in found.labels.items()}
    out = [f"{name} is cut off" for name, r in things.items() if not r.inside(room)]
    things |= {f"grip {k.key}": r for k, r in found.grips.items()}
    for hold in holds_of(table.sights):
        things[f"{hold.part} {hold.which.key} {hold.last}"] = Rect.about(
            *table.view.to_px(hold.at), 8.0, 8.0
        )
    written = {*map(words, found.labels)}
    for (a, one), (b, other) in itertools.combinations(things.items(), 2):
        if {a, b} & written and one.overlaps(other):
            out.append(f"{a} lies over {b}")
    for note, row in found.leads.items():
        over = [n.lines for n, r in found.labels.items() if crosses(r, np.array([row]))]
        out += [f"the lead of {note.lines} crosses {lines}" for lines in over]
    return out


@pytest.mark.parametrize("name", ALL)
def test_every_edge_that_changes_is_told_at_the_edge(window: MainWindow, name: str) -> None:
    """The side seam and the hem of the trousers found no room, and stood in the list alone."""
    settle(window, name)
    for size, shown, by in itertools.product(((1280, 800), (1920, 1080)), Shown, (60.0, -30.0)):
        window.resize(*size)
        window.session.show_in(shown)
        window.session.set_by(by)
        pump()
        assert untold(window) == [], f"{name}, {size}, {shown}, {by} mm"
        assert faults(window) == [], f"{name}, {size}, {shown}, {by} mm"


@pytest.mark.parametrize("name", ALL)
def test_nothing_lies_over_anything_in_the_lowest_window(window: MainWindow, name: str) -> None:
    window.resize(640, 360)
    settle(window, name)
    assert faults(window) == []
    names = [n for n in notes(window).labels if n.bold]
    assert len(names) == sum(not s.led for s in window.table.sights)


@pytest.mark.parametrize("name", ["digging_trousers.dxf", "barrow_trousers.dxf"])
def test_trousers_in_the_lowest_window_are_named_and_their_inseams_told(
    window: MainWindow, name: str
) -> None:
    """The back had no name there, for that of the front took its room; and no edge was told."""
    window.resize(640, 360)
    settle(window, name)
    found = notes(window).labels
    assert sum(n.bold for n in found) == 2
    inseams = [n for n in found if n.lines[0] == "inseam"]
    assert {n.which for n in inseams} == {s.which for s in window.table.sights}
    assert all("+4.0" in n.lines[1] for n in inseams), [n.lines for n in inseams]


def test_what_a_hem_becomes_is_written_at_its_grip(window: MainWindow) -> None:
    settle(window, "digging_trousers.dxf")
    found = notes(window)
    hems = {n.which: r for n, r in found.labels.items() if n.lines[0] == "hem"}
    for which, grip in found.grips.items():
        rect = hems[which]
        assert abs(rect.middle[0] - grip.middle[0]) < 1.0
        assert 0.0 < rect.y0 - grip.y1 < 12.0


@pytest.mark.parametrize("name", ["digging_trousers.dxf", "barrow_trousers.dxf"])
def test_a_grip_lies_over_no_taper_point_of_a_shortened_leg(window: MainWindow, name: str) -> None:
    """It hung below the hem, where these are then: they were half hidden, and not to be held."""
    settle(window, name)
    window.session.set_by(-38.0)
    pump()
    found = notes(window)
    for hold in holds_of(window.table.sights):
        x, y = window.table.view.to_px(hold.at)
        assert not any(r.holds(x, y) for r in found.grips.values()), hold


def test_a_grip_does_not_hide_a_turn_up(window: MainWindow) -> None:
    settle(window, "barrow_trousers.dxf")
    found = notes(window)
    for sight in window.table.sights:
        foot = window.table.view.to_px(Point(0.0, sight.box.y1))[1]
        assert found.grips[sight.which].y0 > foot


@pytest.mark.parametrize("name", ["planting_skirt.svg", "raking_skirt.svg", "pruning_sleeve.svg"])
def test_one_piece_has_its_hem_told_in_the_lowest_window(window: MainWindow, name: str) -> None:
    window.resize(640, 360)
    settle(window, name)
    assert untold(window) == []
    assert faults(window) == []


def test_a_turned_label_is_painted_upright_in_its_place(window: MainWindow) -> None:
    settle(window, "digging_trousers.dxf")
    (note, rect), *more = [
        (n, r) for n, r in notes(window).labels.items() if n.lines[0] == "side seam"
    ]
    assert not more
    assert note.form.turned
    inked = ink(window, rect)
    assert inked.any(axis=1).mean() > 0.6, "wanted words all the way up"
    around = ink(window, rect.grown(2.0))
    assert not around[[0, -1], :].any(), "the words are cut off, or run on"
    assert not around[:, [0, -1]].any(), "the words are cut off, or run on"


def ink(window: MainWindow, rect: Rect) -> np.ndarray:
    """Where something dark stands."""
    image = window.table.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    shape = image.height(), image.bytesPerLine()
    grey = np.frombuffer(image.constBits(), np.uint8).reshape(shape)
    x0, y0, x1, y1 = (round(v) for v in rect)
    return np.asarray(grey[y0 : y1 + 1, x0 : x1 + 1] < 150)


def test_a_level_leaves_the_edges_told(window: MainWindow) -> None:
    settle(window, "digging_trousers.dxf")
    window.session.set_level(AtLevel(520.0))
    window.session.set_by(40.0)
    pump()
    assert untold(window) == []
    assert faults(window) == []


def test_many_pieces_get_no_leads(
    window: MainWindow, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Of twenty pieces a screen would be full of lines that lead to labels."""
    folder = tmp_path_factory.mktemp("many")
    paths = []
    for k in range(4):
        path = folder / f"pair_{k}.svg"
        path.write_bytes((SAMPLES / "allotment_shorts.svg").read_bytes())
        paths.append(path)
    window.resize(640, 400)
    window.opening.open(paths)
    window.session.set_by(40.0)
    pump()
    assert notes(window).leads == {}


def test_a_lead_ends_on_its_line_and_crosses_no_other() -> None:
    row = lead(Rect(0.0, 0.0, 20.0, 10.0), (60.0, 5.0))
    assert row == (22.0, 5.0, 60.0, 5.0)
    own, other = [60.0, -20.0, 60.0, 20.0], [40.0, -20.0, 40.0, 20.0]
    assert clear(row, np.array([own]))
    assert not clear(row, np.array([own, other]))
    assert clear(row, np.empty((0, 4)))
    assert not clear((57.0, 5.0, 60.0, 5.0), np.empty((0, 4))), "no line is left of so short a one"


def test_labels_with_a_lead_are_tried_straight_away_from_the_edge_first() -> None:
    first = next(round_about((100.0, 50.0), (1.0, 0.0), (40.0, 30.0)))
    assert first == pytest.approx((136.0, 50.0))


def test_a_note_is_as_large_as_it_is_written() -> None:
    from app.window.document import PieceId

    plain = Note(PieceId(0, 0), ("side seam", "1 → 2"), 12, False, "ink")
    wide, high = plain.size
    one = plain._replace(form=plain.form._replace(in_one=True))
    assert one.size[0] > wide
    assert one.size[1] < high
    turned = one._replace(form=one.form._replace(turned=True))
    assert turned.size == one.size[::-1]
