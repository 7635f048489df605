"""``hemward inspect`` and ``hemward alter`` as a person types them, in a process of their own."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

from app.__main__ import main
from core.files import read
from core.piece.model import Piece, Role

ROOT = Path(__file__).parent.parent.parent
SAMPLES = ROOT / "sample_pieces"
ALL = sorted(p.name for p in SAMPLES.iterdir() if p.suffix in {".svg", ".dxf"})


def hemward(*words: str | Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "app", *map(str, words)],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip


def refused(done: subprocess.CompletedProcess[str], *telling: str) -> None:
    """Status 1, nothing printed but one sentence on stderr that tells these things."""
    assert done.returncode == 1, done
    assert done.stdout == ""
    assert len(done.stderr.strip().splitlines()) == 1, done.stderr
    assert "Traceback" not in done.stderr
    for word in telling:
        assert word in done.stderr, f"wanted “{word}” in: {done.stderr}"


def trapezoid(folder: Path) -> Path:
    path = folder / "leg.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="400mm"'
        ' viewBox="0 0 200 400"><path id="leg" d="M0,0 L200,0 L190,300 L20,300 Z"/>'
        '<path id="grain" d="M100,50 L100,250"/></svg>'
    )
    return path


@pytest.mark.parametrize("name", ALL)
def test_inspect_json_holds_what_it_promises(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["inspect", str(SAMPLES / name), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert set(data) == {"file", "unit", "pieces", "said", "problems"}
    assert set(data["unit"]) == {"mm_per_unit", "why", "sure"}
    assert data["unit"]["sure"] is True
    for piece in data["pieces"]:
        assert {
            "name", "grain", "edges", "darts", "notches", "mates", "bounds_mm",
        } <= set(piece)  # fmt: skip
        assert [e["role"] for e in piece["edges"]].count("hem") == 1
        for edge in piece["edges"]:
            assert {"role", "length_mm", "sure", "why"} <= set(edge)
            assert edge["length_mm"] > 0


@pytest.mark.parametrize("name", ALL)
def test_altering_by_nothing_gives_the_identical_bytes(name: str, tmp_path: Path) -> None:
    out = tmp_path / name
    assert main(["alter", str(SAMPLES / name), "--by", "0", "--out", str(out)]) == 0
    assert out.read_bytes() == (SAMPLES / name).read_bytes()


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("by", ["60mm", "-3cm", "2 1/2 in", "12cm"])
def test_the_saved_file_holds_the_changed_length(name: str, by: str, tmp_path: Path) -> None:
    out, report = tmp_path / name, tmp_path / "r.json"
    words = ["alter", str(SAMPLES / name), "--by", by, "--out", str(out), "--report", str(report)]
    assert main(words) == 0
    told = json.loads(report.read_text())
    again = {p.name: p for p in read(out).pieces}
    assert told["pieces"], "the report names the pieces"
    for piece in told["pieces"]:
        kept = again[piece["name"]]
        for edge, found in zip(piece["edges"], kept.edges, strict=True):
            got = kept.edge_length(found)
            assert got == pytest.approx(edge["after_mm"], abs=0.05), (
                f"{piece['name']} {edge['role']}: wanted {edge['after_mm']}, got {got}, within 0.05"
            )
        assert {"hem_width_before_mm", "hem_width_after_mm", "steps", "findings"} <= set(piece)


def seams(piece: Piece) -> dict[Role, float]:
    return {e.role: piece.edge_length(e) for e in piece.edges if e.role in (Role.SIDE, Role.INSEAM)}


@pytest.mark.parametrize("name", ["allotment_shorts.svg", "allotment_shorts.dxf"])
@pytest.mark.parametrize("by", ["12cm", "-5cm"])
def test_front_and_back_still_sew_together(name: str, by: str, tmp_path: Path) -> None:
    """Common practice: side seams equal, inseams equal; here before and after."""
    out = tmp_path / name
    assert main(["alter", str(SAMPLES / name), "--by", by, "--out", str(out)]) == 0
    old, new = read(SAMPLES / name).pieces, read(out).pieces
    for role in (Role.SIDE, Role.INSEAM):
        before = seams(old[0])[role] - seams(old[1])[role]
        after = seams(new[0])[role] - seams(new[1])[role]
        assert after == pytest.approx(before, abs=0.05), f"{role}: {before} before, {after} after"


@pytest.mark.parametrize(
    ("source", "ending"), [(n, ".dxf" if ".svg" in n else ".svg") for n in ALL]
)
def test_the_other_format_holds_the_same_pieces(source: str, ending: str, tmp_path: Path) -> None:
    out = tmp_path / f"other{ending}"
    assert main(["alter", str(SAMPLES / source), "--by", "5cm", "--out", str(out)]) == 0
    straight = tmp_path / f"own{Path(source).suffix}"
    assert main(["alter", str(SAMPLES / source), "--by", "5cm", "--out", str(straight)]) == 0
    ours, theirs = read(straight).pieces, read(out).pieces
    assert [p.name.lower() for p in ours] == [p.name.lower() for p in theirs]
    for a, b in zip(ours, theirs, strict=True):
        assert len(a.darts) == len(b.darts)
        for role in {e.role for e in a.edges}:
            lengths = [sorted(p.edge_length(e) for e in p.edges if e.role is role) for p in (a, b)]
            assert lengths[0] == pytest.approx(lengths[1], abs=0.1), f"{a.name} {role}"


def test_a_trapezoid_leg_gets_its_exact_corners(tmp_path: Path) -> None:
    """Closed form: the sides go on by (-10, 300)/300 and (20, 300)/300 a millimetre down."""
    leg, out = trapezoid(tmp_path), tmp_path / "out.svg"
    for by, wanted in (("60mm", [(188, 360), (24, 360)]), ("-60mm", [(192, 240), (16, 240)])):
        assert main(["alter", str(leg), "--by", by, "--out", str(out)]) == 0
        (piece,) = read(out).pieces
        corners = [(s.start.x, s.start.y) for s in piece.ring][2:]
        for got, want in zip(corners, wanted, strict=True):
            assert got == pytest.approx(want, abs=1e-6)


def test_only_the_named_piece_changes(tmp_path: Path) -> None:
    out = tmp_path / "o.svg"
    source = SAMPLES / "allotment_shorts.svg"
    assert main(["alter", str(source), "--by", "3cm", "--out", str(out), "--piece", "BACK"]) == 0
    old, new = read(source).pieces, read(out).pieces
    assert new[0].ring == old[0].ring
    assert new[1].ring != old[1].ring


def test_several_files_go_into_a_folder_and_their_mates_match(tmp_path: Path) -> None:
    for name, other in (("front", "back"), ("back", "front")):
        tree = ElementTree.parse(SAMPLES / "allotment_shorts.svg")
        root = tree.getroot()
        root.remove(next(g for g in root if g.get("id") == other))
        tree.write(tmp_path / f"{name}.svg")
    files = [tmp_path / "front.svg", tmp_path / "back.svg"]
    alone = [read(f).pieces for f in files]
    assert [len(p) for p in alone] == [1, 1]
    out = tmp_path / "altered"
    assert main(["alter", *map(str, files), "--by", "7cm", "--out", str(out)]) == 0
    (front,), (back,) = (read(out / f.name).pieces for f in files)
    for role in (Role.SIDE, Role.INSEAM):
        assert seams(front)[role] == pytest.approx(seams(back)[role], abs=0.05)


class TestRefusals:
    def test_a_file_that_is_not_there(self, tmp_path: Path) -> None:
        refused(
            hemward("alter", "not_there.svg", "--by", "3cm", "--out", tmp_path), "not_there.svg"
        )

    def test_an_unknown_piece(self, tmp_path: Path) -> None:
        source, out = SAMPLES / "allotment_shorts.svg", tmp_path / "o.svg"
        done = hemward("alter", source, "--by", "3cm", "--out", out, "--piece", "collar")
        refused(done, "collar", "Front", "Back")
        assert not out.exists()

    def test_too_much_shorter_says_how_much_would_do(self, tmp_path: Path) -> None:
        source, out = SAMPLES / "allotment_shorts.svg", tmp_path / "o.svg"
        refused(hemward("alter", source, "--by", "-60cm", "--out", out), "18.9 cm")
        assert not out.exists()

    def test_a_file_without_a_unit(self, tmp_path: Path) -> None:
        path = tmp_path / "bare.svg"
        path.write_text(
            '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 400">'
            '<path d="M0,0 L200,0 L190,300 L20,300 Z"/></svg>'
        )
        refused(hemward("inspect", path), "--unit", "bare.svg")
        done = hemward("inspect", path, "--unit", "mm")
        assert done.returncode == 0, done.stderr
        assert "20.0 cm wide" in done.stdout

    def test_the_original_is_not_written_over_by_naming_its_folder(self, tmp_path: Path) -> None:
        leg = trapezoid(tmp_path)
        before = leg.read_bytes()
        refused(hemward("alter", leg, "--by", "3cm", "--out", tmp_path), "original")
        assert leg.read_bytes() == before

    def test_two_files_into_one(self, tmp_path: Path) -> None:
        leg = trapezoid(tmp_path)
        done = hemward("alter", leg, leg, "--by", "3cm", "--out", tmp_path / "o.svg")
        refused(done, "folder")

    def test_a_folder_that_cannot_be_written(self, tmp_path: Path) -> None:
        blocked = tmp_path / "file"
        blocked.write_text("in the way")
        leg = trapezoid(tmp_path)
        refused(hemward("alter", leg, "--by", "3cm", "--out", blocked / "deep" / "o.svg"))

    @pytest.mark.parametrize(
        "words",
        [
            ["alter"],
            ["alter", "x.svg", "--by", "3"],
            ["alter", "x.svg", "--by", "3cm"],
            ["alter", "x.svg", "--by", "lots", "--out", "o.svg"],
            ["inspect"],
            ["inspect", "a.svg", "--unit", "cubit"],
        ],
    )
    def test_wrong_usage_is_status_2(self, words: list[str]) -> None:
        done = hemward(*words)
        assert done.returncode == 2, done
        assert "Traceback" not in done.stderr

    @pytest.mark.parametrize("content", [b"", b"   \n", b"hello", b"\x00\xff\x00", b"<svg"])
    @pytest.mark.parametrize("ending", [".svg", ".dxf"])
    def test_a_broken_file(self, content: bytes, ending: str, tmp_path: Path) -> None:
        path = tmp_path / f"broken{ending}"
        path.write_bytes(content)
        refused(hemward("inspect", path), path.name)


def test_a_refusal_tells_its_amount_in_the_unit_of_the_one_typed(tmp_path: Path) -> None:
    """Asked for in inches, it said that less than 29.8 cm would work."""
    out = tmp_path / "out.svg"
    inches, cm = (
        hemward("alter", trapezoid(tmp_path), "--by", by, "--out", out) for by in ("-14in", "-35cm")
    )
    refused(inches, "Shorten by less than 11.8\u00a0in")
    refused(cm, "Shorten by less than 30.0")
