"""What was corrected in the window is used by the commands: both give the same altered file."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.__main__ import main
from app.window.document import AtLevel, EdgeId
from app.window.main import MainWindow
from app.window.table.tools.marking import in_size_of
from app.window.way.partners import pairs_of
from app.window.way.stage import Stage
from core.curve import Point, Vector
from core.files.beside import beside
from core.piece.model import Role
from tests.app.hands import Answers, click, click_at, fill, px, sight, type_length

Key = Qt.Key
SAMPLES = Path(__file__).parents[2] / "sample_pieces"


def on_edge(window: MainWindow, name: str, role: Role, share: float) -> Point:
    now = sight(window, name).now
    chain = now.edge_chain(now.edge(role))
    return chain.at(chain.at_length(chain.length() * share))


def click_on(window: MainWindow, name: str, p: Point) -> None:
    click_at(window.table, px(window, sight(window, name), p))


def take_apart(window: MainWindow, words: str) -> None:
    box = window.pages.edges.mouse
    rows = [box.list.item(k).text() for k in range(box.list.count())]
    box.list.setCurrentRow(next(k for k, text in enumerate(rows) if words in text))
    click(box.apart)


def correct(window: MainWindow) -> None:
    """With the mouse: a dart, the grain askew, two seams taken apart, two edges sewn."""
    window.way.go(Stage.EDGES)
    mouse = window.pages.edges.mouse
    a, b = (on_edge(window, "Front", Role.WAIST, share) for share in (0.3, 0.4))
    click(mouse.dart)
    for p in (a, b, a.towards(b, 0.5) + Vector(0.0, 80.0)):
        click_on(window, "Front", p)
    click(mouse.grain)
    top = sight(window, "Back").now.outline.ring.bounds().centre + Vector(0.0, -100.0)
    for p in (top, top + Vector(12.0, 200.0)):
        click_on(window, "Back", p)
    take_apart(window, "side seam")
    click(mouse.sew)
    for name in ("Front", "Back"):
        click_on(window, name, on_edge(window, name, Role.RISE, 0.4))


def save_as(window: MainWindow, answers: Answers, path: Path) -> None:
    answers.save_file = path
    assert window.saving.save_as()


def altered_by_command(source: Path, out: Path, by: str, *more: str) -> bytes:
    assert main(["alter", str(source), "--by", by, "--out", str(out), *more]) == 0
    return out.read_bytes()


def kept(path: Path) -> dict[str, object]:
    """What is kept beside, but for the name of the pattern; to a millionth of a mm."""
    values = json.loads(beside(path).read_text(), parse_float=lambda text: round(float(text), 6))
    assert isinstance(values, dict)
    assert values.pop("drawing") == path.name
    return values


@pytest.mark.parametrize("name", ["12 cm.svg", "12 cm.dxf", "-3 cm.svg", "-3 cm.dxf"])
def test_the_same_file_comes_of_the_window_and_of_the_command(
    shorts: MainWindow, answers: Answers, tmp_path: Path, name: str,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    by, ending = name[:-4], name[-4:]
    correct(shorts)
    shorts.way.go(Stage.LENGTH)
    type_length(shorts, by)
    seen = tmp_path / f"window{ending}"
    save_as(shorts, answers, seen)
    source, typed = tmp_path / "shorts.svg", tmp_path / f"command{ending}"
    got = altered_by_command(source, typed, by)
    assert got == seen.read_bytes(), "the command alters otherwise than the window"
    assert kept(typed) == kept(seen), "what was said goes along with both"
    told = capsys.readouterr().out
    assert "shorts.svg, as you corrected it (shorts.svg.hemward.json): " in told
    assert "Front, Back corrected" in told
    assert "--as-recognised leaves that out." in told


def test_ties_across_two_files_are_used_and_kept_by_both(
    both: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    both.way.go(Stage.EDGES)
    take_apart(both, "inseam")
    click(both.pages.edges.mouse.sew)
    for name in ("Front", "Back"):
        click_on(both, name, on_edge(both, name, Role.WAIST, 0.4))
    both.way.go(Stage.LENGTH)
    type_length(both, "5 cm")
    answers.save_folder = tmp_path / "seen"
    answers.save_folder.mkdir()
    assert both.saving.save_as()
    typed = tmp_path / "typed"
    words = ["alter", str(tmp_path / "front.svg"), str(tmp_path / "back.svg"), "--by", "5cm"]
    assert main([*words, "--out", str(typed)]) == 0
    for name in ("front", "back"):
        seen = next(answers.save_folder.glob(f"{name}*.svg"))
        assert (typed / f"{name}.svg").read_bytes() == seen.read_bytes()
        ties = kept(typed / f"{name}.svg")["sewn together"]
        assert isinstance(ties, list)
        assert [t["sewn"] for t in ties] == [False, True]
        others = {"front.svg", "back.svg"} - {f"{name}.svg"}
        assert {t["edges"][1]["drawing"] for t in ties} == others


def test_as_recognised_leaves_out_what_was_said(
    shorts: MainWindow, answers: Answers, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    correct(shorts)
    save_as(shorts, answers, tmp_path / "same.svg")
    source, bare = tmp_path / "shorts.svg", tmp_path / "bare.svg"
    bare.write_bytes(source.read_bytes())
    capsys.readouterr()
    without = altered_by_command(source, tmp_path / "a.svg", "6 cm", "--as-recognised")
    assert "corrected" not in capsys.readouterr().out
    assert without == altered_by_command(bare, tmp_path / "b.svg", "6 cm")
    assert without != altered_by_command(source, tmp_path / "c.svg", "6 cm")
    assert beside(tmp_path / "c.svg").exists()
    assert not beside(tmp_path / "a.svg").exists()


def test_at_a_level_the_window_and_the_command_give_the_same(
    shorts: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    correct(shorts)
    shorts.way.go(Stage.LENGTH)
    shorts.session.commit("level", shorts.session.settled.at(AtLevel(200.0)).by(30.0))
    save_as(shorts, answers, tmp_path / "seen.svg")
    words = ["insert", str(tmp_path / "shorts.svg"), "--at", "20cm", "--by", "3cm"]
    assert main([*words, "--out", str(tmp_path / "typed.svg")]) == 0
    assert (tmp_path / "typed.svg").read_bytes() == (tmp_path / "seen.svg").read_bytes()


def test_pieces_left_as_they_are_stay_so_unless_they_are_named(
    shorts: MainWindow, answers: Answers, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    back = next(w for w, p in shorts.session.settled.sheets.pieces.items() if p.name == "Back")
    shorts.session.commit("off", shorts.session.settled.switched(back, on=False))
    type_length(shorts, "6 cm")
    save_as(shorts, answers, tmp_path / "seen.svg")
    source = tmp_path / "shorts.svg"
    got = altered_by_command(source, tmp_path / "typed.svg", "6 cm")
    assert got == (tmp_path / "seen.svg").read_bytes()
    assert "Back left as it is" in capsys.readouterr().out
    named = altered_by_command(source, tmp_path / "named.svg", "6 cm", "--piece", "back")
    assert named not in (got, source.read_bytes())


def test_where_all_is_left_alone_the_command_says_how_to_change_it(
    shorts: MainWindow, answers: Answers, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    state = shorts.session.settled
    shorts.session.commit("off", state.all_switched(tuple(state.sheets.pieces), on=False))
    save_as(shorts, answers, tmp_path / "same.svg")
    words = ["alter", str(tmp_path / "shorts.svg"), "--by", "6cm", "--out", str(tmp_path / "n.svg")]
    assert main(words) == 1
    assert "--piece" in capsys.readouterr().err
    assert not (tmp_path / "n.svg").exists()


def test_inspect_tells_what_was_said(
    shorts: MainWindow, answers: Answers, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    correct(shorts)
    save_as(shorts, answers, tmp_path / "same.svg")
    capsys.readouterr()
    source = str(tmp_path / "shorts.svg")
    assert main(["inspect", source]) == 0
    text = capsys.readouterr().out
    assert "rise is sewn to rise of Back" in text
    assert "side seam is sewn to" not in text
    assert main(["inspect", source, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert len(data["said"]) == 1
    assert [len(p["darts"]) for p in data["pieces"] if p["name"] == "Front"] == [1]
    assert main(["inspect", source, "--json", "--as-recognised"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["said"] == []
    assert [len(p["darts"]) for p in data["pieces"] if p["name"] == "Front"] == [0]


def test_lesson_and_sheets_use_it_too(
    shorts: MainWindow, answers: Answers, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shorts.way.go(Stage.EDGES)
    name = shorts.pages.edges.tools.name
    shorts.session.select(EdgeId(next(iter(shorts.session.settled.sheets.pieces)), 0))
    name.setFocus()
    name.selectAll()
    QTest.keyClicks(name, "Vorderteil")
    QTest.keyClick(name, Key.Key_Return)
    save_as(shorts, answers, tmp_path / "same.svg")
    capsys.readouterr()
    source = str(tmp_path / "shorts.svg")
    assert main(["sheets", source, "--out", str(tmp_path / "s.pdf")]) == 0
    assert "Vorderteil corrected" in capsys.readouterr().out
    assert main(["lesson", source, "--by", "6cm", "--out", str(tmp_path / "l.pdf")]) == 0
    assert "Vorderteil corrected" in capsys.readouterr().out


def test_the_scale_that_was_measured_is_found_again_by_both(
    shorts: MainWindow, answers: Answers, tmp_path: Path,
    make_window: Callable[[], MainWindow], capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    """It was lost when the window was closed, and asked for again of the altered file too."""
    was = shorts.session.settled.sheets.all[0].drawing.unit.mm_per_unit
    shorts.way.go(Stage.SCALE)
    (box,) = shorts.pages.scale.boxes
    fill(box.drawn, "100 mm")
    fill(box.measured, "96 mm")
    click(box.take)
    wanted = shorts.session.settled.sheets.all[0].drawing.unit.mm_per_unit
    assert wanted == pytest.approx(was * 0.96)
    shorts.way.go(Stage.LENGTH)
    type_length(shorts, "6 cm")
    save_as(shorts, answers, tmp_path / "longer.svg")
    save_as(shorts, answers, tmp_path / "longer.dxf")
    for name in ("shorts.svg", "longer.svg"):
        other = make_window()
        other.opening.open([tmp_path / name])
        assert other.session.settled.sheets.all[0].drawing.unit.mm_per_unit == wanted, name
    assert not beside(tmp_path / "longer.dxf").exists(), "a fresh file is in mm"
    got = altered_by_command(tmp_path / "shorts.svg", tmp_path / "typed.svg", "6 cm")
    assert got == (tmp_path / "longer.svg").read_bytes()
    assert f"one unit is {wanted:.6g} mm" in capsys.readouterr().out


@pytest.mark.parametrize("name", ["rain_breeches.svg", "rain_breeches.dxf"])
def test_edges_sewn_in_one_size_of_a_nest_are_sewn_in_all(
    window: MainWindow, answers: Answers, tmp_path: Path, name: str,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    source = tmp_path / name
    source.write_bytes((SAMPLES / name).read_bytes())
    window.opening.open([source])
    window.way.go(Stage.EDGES)
    box = window.pages.edges.mouse
    assert box.every.isVisible()
    before = len(pairs_of(window.session.settled))
    click(box.sew)
    for one in window.table.sights:
        if one.before.size == "44":
            click_on(window, one.now.name, on_edge(window, one.now.name, Role.RISE, 0.4))
    assert window.session.stack.undoText().endswith("in every size")
    sewn = [p.words for p in pairs_of(window.session.settled) if "rise" in p.words]
    assert len(sewn) == 5
    assert len(pairs_of(window.session.settled)) == before + 5
    QTest.keyClick(box.every, Key.Key_Space)
    assert not box.every.isChecked()
    take_apart(window, "40: rise")
    assert len([p for p in pairs_of(window.session.settled) if "rise" in p.words]) == 4
    window.way.go(Stage.LENGTH)
    type_length(window, "4 cm")
    seen = tmp_path / f"seen{source.suffix}"
    save_as(window, answers, seen)
    got = altered_by_command(source, tmp_path / f"typed{source.suffix}", "4 cm")
    assert got == seen.read_bytes()
    told = capsys.readouterr().out
    assert "1 pair of edges said to be sewn together and 1 pair of edges said not" in told


@pytest.mark.parametrize("sizes", [("44", "36"), ("36", "44"), ("40", "42")])
def test_two_edges_of_a_nest_are_sewn_in_the_size_that_was_clicked_first(
    window: MainWindow, tmp_path: Path, sizes: tuple[str, str]
) -> None:
    """The lines of all sizes lie side by side: a 36 would be sewn to a 44."""
    source = tmp_path / "breeches.svg"
    source.write_bytes((SAMPLES / "rain_breeches.svg").read_bytes())
    window.opening.open([source])
    state = window.session.settled
    rises = []
    for title, size in zip(("front", "back"), sizes, strict=True):
        which, piece = next(
            (w, p)
            for w, p in state.sheets.pieces.items()
            if (p.title.lower(), p.size) == (title, size)
        )
        rises.append(EdgeId(which, piece.edges.index(piece.edge(Role.RISE))))
    other = state.piece(in_size_of(state, rises[0], rises[1]).piece)
    assert (other.title.lower(), other.size) == ("back", sizes[0])
    assert in_size_of(state, rises[0], rises[0]) == rises[0]


def test_a_pattern_in_one_size_is_not_asked_about_sizes(shorts: MainWindow) -> None:
    shorts.way.go(Stage.EDGES)
    assert not shorts.pages.edges.mouse.every.isVisible()
