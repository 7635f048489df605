"""What a person said of a drawing, kept in a small file beside it and found again.

The file is called as the drawing with ``.hemward.json`` after it. It is JSON (RFC 8259): a
version, and for each piece that was corrected all that is known of it, places as points in mm
of the drawing (`core.piece.kept`); which edges were said to be sewn together, or not
(`core.files.ties`); the pieces that are left as they are; and how long one unit is, where that
was said. It holds nothing that the drawing could not do without.
"""

from __future__ import annotations

import contextlib
import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from core.errors import PieceError
from core.files.drawing import Drawing
from core.files.garbage import no_collecting
from core.files.read import read
from core.files.ties import Tie, fits, tie_in, ties_as_values
from core.files.write import save_bytes
from core.piece.correct import SAID
from core.piece.kept import known_of, understood_by
from core.piece.model import Piece
from core.piece.sizes import listing

ENDING = ".hemward.json"
VERSION = 1
# A file of a few pieces has some kilobytes; beyond this it is none of ours.
LARGEST = 4 * 1024 * 1024


def beside(path: Path) -> Path:
    """Where what was said of a drawing is kept."""
    return path.with_name(path.name + ENDING)


def was_corrected(piece: Piece) -> bool:
    """Did a person say anything of the piece?"""
    tapers = (piece.hem.first, piece.hem.last) if piece.hem else ()
    said = (piece.grain, *piece.edges, *piece.darts, *tapers)
    return any(what.because == SAID for what in said)


def keep_beside(drawing: Drawing, path: Path) -> Path | None:
    """Keeps what was said of the drawing's pieces beside `path`; None when nothing was.

    What was kept before and holds no longer is taken away. FileError when it cannot be saved.
    """
    where = beside(path)
    said = [
        {"number": k, "piece": known_of(piece)}
        for k, piece in enumerate(drawing.pieces)
        if was_corrected(piece) or _differs(piece, drawing.as_read[k])
    ]
    unit = drawing.told_unit
    if not (said or drawing.ties or drawing.alone or unit):
        if _kept(where) is not None:
            with contextlib.suppress(OSError):
                where.unlink()
        return None
    kept: dict[str, Any] = {"version": VERSION, "drawing": path.name, "pieces": said}
    if drawing.ties:
        kept["sewn together"] = ties_as_values(drawing.ties)
    if drawing.alone:
        kept["left as they are"] = list(drawing.alone)
    if unit:
        kept["mm per unit"] = unit
    save_bytes(where, (json.dumps(kept, indent=1, ensure_ascii=False) + "\n").encode())
    return where


def _differs(piece: Piece, read: Piece) -> bool:
    """Was it renamed, or a dart taken away?"""
    return piece.name != read.name or len(piece.darts) < len(read.darts)


def read_as_said(path: Path | str, *, mm_per_unit: float | None = None) -> Drawing:
    """As `core.files.read`, with what is kept beside the file: the one way in for the window and
    for every command. A unit that is given goes before one that is kept. All pieces are
    recognised already: each is shown, or looked through for what it may be sewn to."""
    path = Path(path)
    unit = _unit(_kept(beside(path)) or {}) if mm_per_unit is None else mm_per_unit
    with no_collecting():
        return as_kept(read(path, mm_per_unit=unit).whole())


def _unit(kept: dict[str, Any]) -> float | None:
    unit = kept.get("mm per unit")
    if not isinstance(unit, (int, float)) or isinstance(unit, bool):
        return None
    return float(unit) if 0.0 < unit < float("inf") else None


def what_was_said(drawing: Drawing) -> str:
    """One sentence of what a person said of the drawing, and where it is kept; "" for nothing."""
    told = list(_said(drawing))
    where = beside(drawing.path)
    if not told or _kept(where) is None:
        return ""
    return f"{drawing.path.name}, as you corrected it ({where.name}): {listing(told)}."


def _said(drawing: Drawing) -> Iterator[str]:
    if drawing.told_unit:
        yield f"one unit is {drawing.told_unit:.6g} mm"
    pairs = zip(drawing.pieces, drawing.as_read, strict=True)
    corrected = [p.name for p, read in pairs if p != read]
    if corrected:
        yield f"{', '.join(corrected)} corrected"
    for ties, what in (
        (sum(t.sewn for t in drawing.ties), "said to be sewn together"),
        (sum(not t.sewn for t in drawing.ties), "said not to be sewn together"),
    ):
        if ties:
            yield f"{ties} {'pair' if ties == 1 else 'pairs'} of edges {what}"
    alone = [drawing.pieces[k].name for k in drawing.alone]
    if alone:
        yield f"{', '.join(alone)} left as {'it is' if len(alone) == 1 else 'they are'}"


def as_kept(drawing: Drawing) -> Drawing:
    """The drawing with its pieces as they were said to be, where that is kept beside it.

    What does not fit is left as it was recognised, and told among the drawing's problems.
    """
    where = beside(drawing.path)
    kept = _kept(where)
    if kept is None:
        return drawing
    pieces, told = list(drawing.pieces), []
    for one in kept["pieces"]:
        try:
            number = int(one["number"])
            pieces[number] = understood_by(pieces[number], one["piece"])
        except (PieceError, KeyError, TypeError, ValueError, IndexError):
            told.append(f"{where.name}: what was said of a piece no longer fits it. Look it over.")
    ties = _ties(kept, pieces)
    if len(ties) < len(_listed(kept, "sewn together")):
        told.append(
            f"{where.name}: what was said to be sewn together no longer fits. Look it over."
        )
    return replace(
        drawing,
        pieces=tuple(pieces),
        ties=ties,
        alone=_alone(kept, len(pieces)),
        told=(*drawing.told, *dict.fromkeys(told)),
    )


def _ties(kept: dict[str, Any], pieces: list[Piece]) -> tuple[Tie, ...]:
    """Those that fit the pieces."""
    out = []
    for value in _listed(kept, "sewn together"):
        with contextlib.suppress(LookupError, TypeError, ValueError, AttributeError):
            tie = tie_in(value)
            if fits(tie, pieces):
                out.append(tie)
    return tuple(out)


def _alone(kept: dict[str, Any], count: int) -> tuple[int, ...]:
    return tuple(
        k
        for k in _listed(kept, "left as they are")
        if isinstance(k, int) and not isinstance(k, bool) and 0 <= k < count
    )


def _listed(kept: dict[str, Any], name: str) -> list[Any]:
    found = kept.get(name, [])
    return found if isinstance(found, list) else []


def _kept(where: Path) -> dict[str, Any] | None:
    """What the file holds; None when there is none, or it is none of ours."""
    try:
        if where.stat().st_size > LARGEST:
            return None
        kept = json.loads(where.read_bytes())
    except (OSError, ValueError, RecursionError):
        return None
    ours = isinstance(kept, dict) and kept.get("version") == VERSION
    return kept if ours and isinstance(kept.get("pieces"), list) else None
