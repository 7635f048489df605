"""What is asked of ezdxf on the way in: repairing, binary files, and two rare conversions.

Geometry is read from our own index (pairs.py), because a writer that leaves untouched
bytes alone needs the places anyway. ezdxf is asked only for what a plain file never
needs, and is imported late: it costs 0.2 s and writes a font cache at its import.
"""

from __future__ import annotations

import io
import logging
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from core.errors import FileError
from core.files.drawing import BINARY_MARK
from core.files.dxf.splines import BSpline

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


def through_points(
    points: Sequence[tuple[float, float]], ends: tuple[tuple[float, float] | None, ...]
) -> BSpline | None:
    """The spline through fit points, as a SPLINE without control points means it; `ends` are the
    directions at its first and last point, where the file says them. None for a single place."""
    from ezdxf.math import Vec3, fit_points_to_cad_cv

    # A point that stands twice has no way to the next one.
    fit = [Vec3(*p) for p, _ in groupby(points)]
    if len(fit) < 2:
        return None
    said = [Vec3(*end) for end in ends if end is not None and any(end)]
    spline = fit_points_to_cad_cv(fit, tangents=said if len(said) == 2 else None)
    controls = [(p.x, p.y) for p in spline.control_points]
    return BSpline(spline.degree, list(spline.knots()), controls)


def plain(text: str) -> str:
    """MTEXT without its formatting codes, line by line."""
    from ezdxf.tools.text import fast_plain_mtext

    lines = (" ".join(line.split()) for line in str(fast_plain_mtext(text)).split("\n"))
    return "\n".join(filter(None, lines))
