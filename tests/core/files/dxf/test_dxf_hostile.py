"""Damaged and strange files: a sentence with file, line and advice; no traceback, no hang."""

from __future__ import annotations

import random
import re

import ezdxf
import pytest
from dxf_made import as_bytes, by_hand, line_text, moved, paths

from core.curve import Vector
from core.errors import FileError, HemwardError
from core.files.dxf import read_dxf, splice_dxf

GOOD = by_hand(line_text(0, 0, 30, 40))


@pytest.mark.parametrize("data", [b"", b"  \r\n\n", b"\n" * 50])
def test_empty_file(data) -> None:
    with pytest.raises(FileError, match=r"leer\.dxf is empty"):
        read_dxf("leer.dxf", data)


BAD_NUMBERS = ["1,50", "nan", "inf", "-inf", "1e300", "abc", "", "1.2.3"]


@pytest.mark.parametrize("number", BAD_NUMBERS)
@pytest.mark.parametrize("where", ["line", "polyline", "vertex", "bulge", "arc"])
def test_bad_number_is_named_with_its_line(number, where) -> None:
    entity = {
        "line": line_text(0, number, 30, 40),
        "polyline": f"0|LWPOLYLINE|8|0|90|2|70|0|10|0|20|0|10|{number}|20|7",
        "vertex": f"0|POLYLINE|8|0|66|1|0|VERTEX|8|0|10|0|20|0|0|VERTEX|8|0|10|1|20|{number}"
        "|0|SEQEND",
        "bulge": f"0|LWPOLYLINE|8|0|90|2|70|0|10|0|20|0|42|{number}|10|9|20|7",
        "arc": f"0|ARC|8|0|10|0|20|0|40|{number}|50|0|51|90",
    }[where]
    data = by_hand(entity)
    with pytest.raises(FileError) as caught:
        read_dxf("bad.dxf", data)
    said = str(caught.value)
    found = re.match(r"bad\.dxf, line (\d+): “(.*?)”", said)
    assert found, said
    assert data.decode().splitlines()[int(found[1]) - 1] == number
    assert "save" in said or "remove" in said
    if number == "1,50":
        assert "decimal" in said


def test_missing_number_is_named() -> None:
    with pytest.raises(FileError, match=r"a\.dxf, line \d+: this LINE lacks its group code 21"):
        read_dxf("a.dxf", by_hand("0|LINE|8|0|10|0|20|0|11|5"))
    with pytest.raises(FileError, match="has no x or y"):
        read_dxf("a.dxf", by_hand("0|LWPOLYLINE|8|0|90|2|10|0|20|0|10|5"))


def test_not_a_drawing() -> None:
    for data in (
        b"<svg/>",
        b"PK\x03\x04" + bytes(50),
        b"hello\nworld\n",
        "0\nSECTION\n".encode("utf-16"),
    ):
        with pytest.raises(FileError, match=r"a\.dxf"):
            read_dxf("a.dxf", data)


def made() -> bytes:
    document = ezdxf.new("R2010", units=4)
    for k in range(20):
        document.modelspace().add_line((k, 0), (k, 50))
    return as_bytes(document)


def test_truncated_file_is_altered_in_its_repaired_form() -> None:
    data = made()
    cut = data[: data.rindex(b"LINE") + 20]
    reading = read_dxf("cut.dxf", cut)
    assert len(paths(reading)) >= 19
    assert "breaks off" in reading.problems[0]
    out = splice_dxf(reading.source, cut, {0: moved(paths(reading)[0], Vector(1, 0))})
    again = read_dxf("again.dxf", out)
    assert not again.problems
    assert len(paths(again)) == len(paths(reading))


def test_damage_does_not_let_a_decimal_comma_through() -> None:
    """The repairing reader takes 1,50 for 1 in silence, so it is not asked."""
    data = by_hand(line_text(0, 0, 30, 40), line_text("1,50", 0, 30, 40))
    cut = data[: data.index(b"0\nENDSEC", data.index(b"ENTITIES"))]
    with pytest.raises(FileError, match=r"cut\.dxf, line \d+: “1,50” .*decimal comma"):
        read_dxf("cut.dxf", cut)


def test_missing_end_is_told_apart_from_missing_everything() -> None:
    with pytest.raises(FileError, match=r"a\.dxf, line \d+"):
        read_dxf("a.dxf", GOOD[:40])


def test_lost_line_names_the_place_where_pairs_go_out_of_step() -> None:
    lines = GOOD.split(b"\n")
    at = lines.index(b"LINE")
    with pytest.raises(FileError, match=r"a\.dxf, line \d+: .*group code"):
        read_dxf("a.dxf", b"\n".join(lines[: at + 1] + lines[at + 2 :]))


def survives(name: str, data: bytes) -> None:
    """Reads the file or gives a sentence that names it; anything else fails the test."""
    said = name
    try:
        read_dxf(name, data)
    except HemwardError as trouble:
        said = str(trouble)
    assert name in said


def test_truncation_anywhere_never_ends_in_a_traceback() -> None:
    data = made()
    for cut in range(0, len(data), max(1, len(data) // 60)):
        survives("cut.dxf", data[:cut])


def test_random_damage_never_ends_in_a_traceback() -> None:
    rng = random.Random(5)
    document = ezdxf.new("R2010", units=4)
    block = document.blocks.new("A")
    block.add_lwpolyline([(0, 0, 0.5), (9, 0, 0), (9, 9, 0)], format="xyb", close=True)
    block.add_open_spline([(0, 0), (10, 30), (20, -5), (40, 10)])
    block.add_ellipse((1, 2), (9, 3), 0.4)
    document.modelspace().add_blockref("A", (0, 0))
    document.modelspace().add_mtext("x{y")
    data = as_bytes(document)
    start = data.index(b"BLOCKS")
    for _ in range(150):
        bad = bytearray(data)
        for _ in range(rng.randint(1, 4)):
            at = rng.randrange(start, len(bad))
            bad[at] = rng.choice(b"0123456789-.,eLX \n\xff")
        survives("bad.dxf", bytes(bad))


def test_byte_order_mark_and_old_line_ends_are_no_trouble() -> None:
    for data in (
        b"\xef\xbb\xbf" + GOOD,
        GOOD.replace(b"\n", b"\r"),
        GOOD + b"\x1a",
        GOOD + b"junk\n",
    ):
        reading = read_dxf("a.dxf", data)
        assert len(reading.shapes) == 1
        after = splice_dxf(reading.source, data, {0: moved(reading.shapes[0], Vector(1, 0))})
        assert len(after) > len(GOOD) - 10
        assert read_dxf("a.dxf", after).shapes[0].geometry.start.x == 1.0


def test_comments_between_values_stay() -> None:
    data = by_hand("0|LINE|999|a note|8|0|10|0|20|0|11|30|21|40")
    reading = read_dxf("a.dxf", data)
    after = splice_dxf(reading.source, data, {0: moved(reading.shapes[0], Vector(1, 0))})
    assert b"999\na note\n" in after


def test_a_comment_within_the_last_vertex_had_the_file_refused() -> None:
    data = by_hand("0|LWPOLYLINE|8|0|90|2|70|0|10|0|20|0|999|a note|10|30|999|a note|20|40")
    reading = read_dxf("a.dxf", data)
    assert reading.shapes[0].geometry.end.x == 30.0
    after = splice_dxf(reading.source, data, {0: moved(reading.shapes[0], Vector(1, 0))})
    assert after.count(b"999\na note\n") == 2


@pytest.mark.parametrize("ends", [b"\n", b"\r\n", b"\r"])
def test_a_file_that_lacks_its_eof_alone_was_refused(ends: bytes) -> None:
    data = GOOD[: GOOD.index(b"0\nEOF")].replace(b"\n", ends)
    reading = read_dxf("a.dxf", data)
    assert "EOF) was missing" in reading.problems[1]
    after = splice_dxf(reading.source, data, {0: moved(reading.shapes[0], Vector(1, 0))})
    assert after.endswith(b"0" + ends + b"EOF" + ends)
    assert read_dxf("a.dxf", after).shapes[0].geometry.start.x == 1.0


def test_insert_of_a_missing_block_is_told() -> None:
    data = by_hand(line_text(0, 0, 3, 40), "0|INSERT|8|0|2|GONE|10|0|20|0")
    assert "INSERT" in read_dxf("a.dxf", data).problems[0]


def test_vertices_without_end_of_sequence() -> None:
    vertices = "|0|VERTEX|8|0|10|0|20|0|0|VERTEX|8|0|10|80|20|0"
    data = by_hand(f"0|POLYLINE|8|0|66|1|70|0{vertices}", line_text(0, 0, 3, 40))
    reading = read_dxf("a.dxf", data)
    assert len(reading.shapes) == 2
    after = splice_dxf(reading.source, data, {0: moved(reading.shapes[0], Vector(1, 0))})
    assert len(read_dxf("a.dxf", after).shapes) == 2
