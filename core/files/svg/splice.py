"""Writes altered shapes back into the bytes of the file they came from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from core.curve import Box
from core.errors import FileError
from core.files.edits import Added, PathEdit, PointEdit
from core.files.svg.added import drawn_new
from core.files.svg.clips import opened, parted
from core.files.svg.collect import Drawn
from core.files.svg.copies import Altered, copied, sorted_out
from core.files.svg.document import Node, scan
from core.files.svg.elements import changes_of
from core.files.svg.encodings import in_own, in_utf8
from core.files.svg.page import bounds_of, grown
from core.files.svg.reader import SvgSource
from core.files.svg.tags import Change, Patch, patches, spliced

Edit = PathEdit | PointEdit


def splice_svg(
    source: SvgSource,
    data: bytes,
    edits: Mapping[int, Edit],
    new: Sequence[Added] = (),
    *,
    bounds_mm: Box | None = None,
) -> bytes:
    """The file `data` with the edits made; all other bytes are those that were read.

    `source` is the reading's index; `edits` go by Shape.key, in mm of the page as read,
    `new` are marks that are to be drawn as well.
    When what they put in place, or `bounds_mm`, lies beyond the page, the page grows (see
    ``page.grown``); the scale never changes. Edits that change nothing give the identical
    bytes. FileError when `data` is not what was read or a shape cannot be altered.
    """
    document = source.document
    if in_utf8(data, document.own) != document.data:
        raise FileError(f"{document.name} is not the file that was read; read it again.")
    frames, in_copies = parted(_opened(source, edits), source.visits)
    altered = _altered(source, edits, in_copies)
    if not altered and not new:
        return data
    in_place, copies = sorted_out(source, altered)
    in_place = {**frames, **in_place}
    page = _page_change(source, edits, bounds_mm)
    if page is not None:
        in_place[document.root] = page
    parts: list[Patch] = []
    for node, change in in_place.items():
        parts += patches(document, node, change)
    parts += (copied(source, copy) for copy in copies)
    parts += (drawn_new(source, mark) for mark in new)
    out = spliced(document.data, 0, len(document.data), parts)
    out = in_own(out, document.own)
    if copies:
        _check_copies(source, out)
    return out


def _opened(source: SvgSource, edits: Mapping[int, Edit]) -> dict[Node, Change]:
    """What must change so that clip paths and frames do not hide the altered shapes."""
    # An edit of no shape is refused where the shapes are altered.
    known = range(len(source.drawn))
    lines = ((k, e) for k, e in edits.items() if isinstance(e, PathEdit) and k in known)
    return opened((source.drawn[key].clips, edit) for key, edit in lines)


def _check_copies(source: SvgSource, out: bytes) -> None:
    """A copy elsewhere can lose a prefix that was declared around its original."""
    try:
        sound = not scan(source.document.name, out).problems
    except FileError:
        sound = False
    if not sound:
        raise FileError(
            f"{source.document.name}: a part that is drawn several times cannot be altered on "
            "its own; turn the clones into plain shapes in a drawing program first."
        )


def _altered(
    source: SvgSource, edits: Mapping[int, Edit], frames: Mapping[Node, Change]
) -> list[Altered]:
    """The edits by element and appearance, without those that change nothing.

    Those of `frames` that are around an altered element change with it.
    """
    first: dict[tuple[Node, ...], Drawn] = {}
    by_way: dict[tuple[Node, ...], dict[int, Edit]] = {}
    for key, edit in edits.items():
        if not 0 <= key < len(source.drawn):
            raise FileError(f"{source.document.name} has no shape number {key}; read it again.")
        drawn = source.drawn[key]
        way = (*drawn.uses, drawn.node)
        first.setdefault(way, drawn)
        by_way.setdefault(way, {})[drawn.subpath] = edit
    out = []
    for way, parts in by_way.items():
        changes = changes_of(source, first[way], parts)
        if changes:
            around = {c.frame for c in first[way].clips}
            opened_too = {node: c for node, c in frames.items() if node in around}
            out.append(Altered(way, {**opened_too, **changes}))
    return out


def _page_change(source: SvgSource, edits: Mapping[int, Edit], bounds: Box | None) -> Change | None:
    placed = bounds_of(list(edits.values()), new=True)
    needed = bounds if placed is None else placed if bounds is None else placed | bounds
    if needed is None:
        return None
    before = bounds_of(list(edits.values()), new=False)
    return grown(source.document, source.page, needed, before)
