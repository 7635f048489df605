"""The one place that speaks to ezdxf: repairing, binary files, and two rare conversions.

Geometry is read from our own index (pairs.py), because a writer that leaves untouched
bytes alone needs the places anyway. ezdxf is asked only for what a plain file never
needs, and is imported late: it costs 0.2 s and writes a font cache at its import.
"""

from __future__ import annotations

import io
import logging
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import numpy as np

from core.curve import Point
from core.errors import FileError
from core.files.drawing import BINARY_MARK
from core.files.dxf.biarc import Step
from core.files.dxf.splines import Array, BSpline

MOST_REPAIRS_TOLD = 8


@dataclass(frozen=True, slots=True)
class Cleaned:
    """A file in clean text form, and what had to be mended for it."""

    data: bytes
    repairs: tuple[str, ...]


def is_binary(data: bytes) -> bool:
    """Does it bear the mark of a binary DXF?"""
    return data.startswith(BINARY_MARK)


def from_binary(name: str, data: bytes) -> Cleaned:
    """A binary DXF as text; FileError when it cannot be read."""
    from ezdxf.document import Drawing
    from ezdxf.lldxf.tagger import binary_tags_loader

    try:
        document = Drawing.load(binary_tags_loader(data))
        out = io.StringIO()
        document.write(out)
    # A damaged file can fail anywhere inside the library, with any kind of error.
    except Exception as trouble:
        raise FileError(
            f"{name} is a binary DXF that is damaged. Save it as plain text DXF and open that."
        ) from trouble
    return Cleaned(out.getvalue().encode(document.output_encoding, "replace"), ())


def repaired(name: str, data: bytes, trouble: FileError) -> Cleaned:
    """What the repairing reader makes of a damaged file; raises `trouble` if nothing."""
    from ezdxf import recover

    logging.getLogger("ezdxf").setLevel(logging.CRITICAL)
    try:
        document, auditor = recover.read(io.BytesIO(data))
        out = io.StringIO()
        document.write(out)
    except Exception as deeper:  # see from_binary
        raise trouble from deeper
    if not len(document.entitydb) or not _draws_something(document):
        raise trouble
    said = [e.message for e in (*auditor.fixes, *auditor.errors)]
    more = len(said) - MOST_REPAIRS_TOLD
    said = said[:MOST_REPAIRS_TOLD] + ([f"and {more} more"] if more > 0 else [])
    return Cleaned(out.getvalue().encode(document.output_encoding, "replace"), tuple(said))


def _draws_something(document: object) -> bool:
    return any(len(layout) for layout in getattr(document, "blocks", ()))


def through_points(points: Array) -> BSpline:
    """The spline through fit points, as a SPLINE without control points means it."""
    from ezdxf.math import Vec3, fit_points_to_cad_cv

    spline = fit_points_to_cad_cv([Vec3(x, y) for x, y in points.tolist()])
    controls = np.array([(p.x, p.y) for p in spline.control_points])
    return BSpline(spline.degree, np.array(spline.knots()), controls)


def plain(text: str) -> str:
    """MTEXT without its formatting codes, lines joined by spaces."""
    from ezdxf.tools.text import fast_plain_mtext

    return " ".join(str(fast_plain_mtext(text)).split())


@dataclass(frozen=True, slots=True)
class NewLine:
    """A line through steps (in mm, y up) on a numbered layer."""

    layer: int
    steps: tuple[Step, ...]
    closed: bool


@dataclass(frozen=True, slots=True)
class NewPoint:
    """A point (in mm, y up) on a numbered layer, or writing there."""

    layer: int
    place: Point
    text: str = ""


@dataclass(frozen=True, slots=True)
class NewBlock:
    """A block to be written and inserted once at the origin."""

    name: str
    items: tuple[NewLine | NewPoint, ...]


def new_drawing(blocks: Sequence[NewBlock], *, text_height: float) -> bytes:
    """A clean R2000 text DXF in mm with these blocks; equal blocks give equal bytes."""
    import ezdxf

    with _without_date():
        document = ezdxf.new("R2000")  # type: ignore[attr-defined]
    document.header["$INSUNITS"] = 4
    document.header["$MEASUREMENT"] = 1
    for layer in sorted({item.layer for b in blocks for item in b.items}):
        document.layers.add(str(layer))
    for block in blocks:
        target = document.blocks.new(block.name)
        for item in block.items:
            _draw(target, item, text_height)
        document.modelspace().add_blockref(block.name, (0.0, 0.0))
    out = io.StringIO()
    with _without_date():
        document.write(out)
    return out.getvalue().encode(document.output_encoding, "replace")


def _draw(target: Any, item: NewLine | NewPoint, text_height: float) -> None:
    looks = {"layer": str(item.layer)}
    if isinstance(item, NewPoint):
        place = (item.place.x, item.place.y)
        if item.text:
            target.add_text(item.text, height=text_height, dxfattribs=looks).set_placement(place)
        else:
            target.add_point(place, dxfattribs=looks)
        return
    ends = [(s.start.x, s.start.y, s.bulge) for s in item.steps]
    if not item.closed:
        ends.append((item.steps[-1].end.x, item.steps[-1].end.y, 0.0))
    if len(ends) == 2 and not item.closed and not ends[0][2]:
        target.add_line(ends[0][:2], ends[1][:2], dxfattribs=looks)
    else:
        target.add_lwpolyline(ends, format="xyb", close=item.closed, dxfattribs=looks)


@contextmanager
def _without_date() -> Iterator[None]:
    """ezdxf's switch for equal bytes from equal drawings, put back afterwards."""
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before
