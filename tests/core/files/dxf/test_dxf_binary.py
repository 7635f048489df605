"""Binary DXF: read like its text twin, written back as binary; ezdxf writes and reads it."""

from __future__ import annotations

import io
import struct

import ezdxf
import pytest
from dxf_made import moved, paths, stretched
from ezdxf.document import Drawing
from ezdxf.lldxf.tagger import binary_tags_loader

from core.curve import Vector
from core.errors import FileError, HemwardError
from core.files.dxf import read_dxf, splice_dxf
from core.files.dxf.binary import as_text

VERSIONS = ["R12", "R2000", "R2010", "R2018"]


def made(version: str) -> bytes:
    document = ezdxf.new(version, units=4)
    msp = document.modelspace()
    ring = [(0.1, 0.2), (100.25, 0.2), (1 / 3, 300.5)]
    if version == "R12":
        msp.add_polyline2d(ring, close=True)
    else:
        document.appids.add("MAKER")
        line = msp.add_lwpolyline(ring, close=True)
        line.set_xdata("MAKER", [(1000, "mine"), (1004, b"\x00\x7f\xff"), (1071, -7)])
    msp.add_text("Ärmel")
    out = io.BytesIO()
    document.write(out, fmt="bin")
    data = out.getvalue()
    if version == "R12":
        # ezdxf leaves the unit out of R12 files; other programs write it.
        unit = b"\x09$INSUNITS\x00\x46\x04\x00"
        at = data.index(b"\x09$", 30)
        data = data[:at] + unit + data[at:]
    return data


def loaded(data: bytes) -> Drawing:
    document = Drawing.load(binary_tags_loader(data))
    auditor = document.audit()
    assert not auditor.errors, [e.message for e in auditor.errors]
    assert not auditor.fixes, [e.message for e in auditor.fixes]
    return document


@pytest.mark.parametrize("version", VERSIONS)
def test_there_and_back_are_the_same_bytes(version) -> None:
    data = made(version)
    text, binary = as_text("b.dxf", data)
    assert binary.packed(text) == data
    reading = read_dxf("b.dxf", data)
    assert not reading.cleaned
    assert not reading.problems
    assert splice_dxf(reading.source, data, {}) == data


@pytest.mark.parametrize("version", VERSIONS)
def test_only_the_altered_numbers_differ(version) -> None:
    """Two of three corners move down: the eight bytes of two doubles change, no more."""
    data = made(version)
    reading = read_dxf("b.dxf", data)
    (shape,) = paths(reading)
    change = stretched(shape, lambda p: p.y > -1.0, Vector(0.0, 20.0))
    after = splice_dxf(reading.source, data, {shape.key: change})
    assert len(after) == len(data)
    old, new = struct.pack("<d", 0.2), struct.pack("<d", -19.8)
    assert after == data.replace(old, new)
    assert data.count(old) == 2
    (line,) = loaded(after).modelspace().query("POLYLINE LWPOLYLINE")
    got = [tuple(p)[:2] for p in (line.points() if version == "R12" else line.get_points("xy"))]
    assert got == [(0.1, -19.8), (100.25, -19.8), (1 / 3, 300.5)]


@pytest.mark.parametrize("version", VERSIONS)
def test_longer_file_is_sound_too(version) -> None:
    data = made(version)
    reading = read_dxf("b.dxf", data)
    (shape,) = paths(reading)
    change = moved(shape, Vector(1.0, 1.0))
    halves = tuple(tuple(h for s in new for h in s.split(0.5)) for new in change.new)
    longer = type(change)(change.key, change.old, halves)
    after = splice_dxf(reading.source, data, {shape.key: longer})
    (line,) = loaded(after).modelspace().query("POLYLINE LWPOLYLINE")
    assert len(line) == 6


def test_other_bytes_than_were_read_are_refused() -> None:
    data = made("R2010")
    reading = read_dxf("b.dxf", data)
    change = moved(paths(reading)[0], Vector(1, 0))
    with pytest.raises(FileError, match="Open it again"):
        splice_dxf(reading.source, data + b"x", {0: change})


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_truncated_anywhere_it_ends_in_a_sentence(version) -> None:
    data = made(version)
    for cut in range(22, len(data) - 1, max(1, len(data) // 40)):
        with pytest.raises(HemwardError, match=r"b\.dxf"):
            read_dxf("b.dxf", data[:cut])
