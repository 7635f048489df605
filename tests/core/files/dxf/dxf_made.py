"""Test files made by ezdxf or by hand, and the questions asked of them."""

from __future__ import annotations

import difflib
import io
from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

import ezdxf
from ezdxf.document import Drawing

from core.curve import Affine, Chain, Line, Point, Segment, Vector
from core.files.dxf import read_dxf
from core.files.edits import PathEdit
from core.files.reading import Reading
from core.piece.model import Shape


def as_bytes(document: Drawing, *, crlf: bool = False) -> bytes:
    out = io.StringIO()
    document.write(out)
    text = out.getvalue()
    if document.dxfversion == "AC1009":
        # ezdxf leaves the unit out of R12 files; other programs write it.
        text = text.replace("AC1009\n", f"AC1009\n  9\n$INSUNITS\n 70\n{document.units}\n", 1)
    text = text.replace("\n", "\r\n") if crlf else text
    return text.encode(document.output_encoding)


def by_hand(*entities: str, header: Sequence[str] = ("$INSUNITS", "70", "4")) -> bytes:
    """A small R12-style text: each entity as its group codes and values, space-separated."""
    lines = ["0", "SECTION", "2", "HEADER"]
    if header:
        lines += ["9", header[0], header[1], header[2]]
    lines += ["0", "ENDSEC", "0", "SECTION", "2", "ENTITIES"]
    for entity in entities:
        lines += entity.split("|")
    return "\n".join([*lines, "0", "ENDSEC", "0", "EOF", ""]).encode()


def line_text(x0: object, y0: object, x1: object, y1: object, layer: str = "0") -> str:
    return f"0|LINE|8|{layer}|10|{x0}|20|{y0}|11|{x1}|21|{y1}"


def audited(data: bytes) -> Drawing:
    """The document as ezdxf's strict reader sees it; fails where its auditor finds anything."""
    document = ezdxf.read(io.StringIO(_text(data).replace("\r\n", "\n")))
    auditor = document.audit()
    said = [e.message for e in (*auditor.errors, *auditor.fixes)]
    assert not said, f"wanted a file without errors, got {said}"
    return document


def _text(data: bytes) -> str:
    """UTF-8 since R2007, western before."""
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252")


def changed_lines(before: bytes, after: bytes) -> tuple[list[bytes], list[bytes]]:
    """The lines that went and the lines that came, line ends included."""
    a, b = before.splitlines(keepends=True), after.splitlines(keepends=True)
    gone: list[bytes] = []
    come: list[bytes] = []
    matcher = difflib.SequenceMatcher(a=a, b=b, autojunk=False)
    for tag, i0, i1, j0, j1 in matcher.get_opcodes():
        if tag != "equal":
            gone += a[i0:i1]
            come += b[j0:j1]
    return gone, come


def paths(reading: Reading) -> list[Shape]:
    return [s for s in reading.shapes if isinstance(s.geometry, Chain)]


def edit(shape: Shape, change: Callable[[int, Segment], Iterable[Segment]]) -> PathEdit:
    """The edit that puts `change(number, segment)` in the place of each segment."""
    assert isinstance(shape.geometry, Chain)
    old = shape.geometry.segments
    return PathEdit(shape.key, old, tuple(tuple(change(k, s)) for k, s in enumerate(old)))


def moved(shape: Shape, by: Vector) -> PathEdit:
    return edit(shape, lambda _, s: (s.mapped(Affine.move(by.x, by.y)),))


def stretched(shape: Shape, where: Callable[[Point], bool], by: Vector) -> PathEdit:
    """All points for which `where` holds are moved; everything else stays."""

    def put(p: Point) -> Point:
        return p + by if where(p) else p

    return edit(shape, lambda _, s: (type(s)(*(put(p) for p in s.controls)),))


def reread(data: bytes, name: str = "again.dxf") -> Reading:
    return read_dxf(name, data)


def polyline(*points: tuple[float, float]) -> tuple[Line, ...]:
    ps = [Point(*p) for p in points]
    return tuple(Line(a, b) for a, b in pairwise(ps))


def farthest(a: Chain, b: Chain, *, samples: int = 9) -> float:
    """The largest distance of sampled points of either chain from the other."""
    out = 0.0
    for one, other in ((a, b), (b, a)):
        for s in one:
            for k in range(samples):
                out = max(out, other.nearest(s.at(k / (samples - 1))).distance)
    return out
