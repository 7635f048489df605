"""Writing back: the bytes of the altered entities are exchanged, all others stay."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from core.errors import FileError
from core.files.dxf import layers, shapes
from core.files.dxf.bytes_out import Handles, patched, spliced_in
from core.files.dxf.follow import follow
from core.files.dxf.legs import changes
from core.files.dxf.new_mark import NewMarks
from core.files.dxf.records import Block, Entity, Layout
from core.files.dxf.source import DxfSource
from core.files.dxf.walk import Drawn
from core.files.dxf.write_blocks import BlockCopier, name_pair
from core.files.dxf.write_polyline import PolylineWriter
from core.files.dxf.write_single import SingleWriter
from core.files.edits import Added, PathEdit, PointEdit
from core.files.notches import turn_with


class Splice(NamedTuple):
    """New bytes for begin..end-1 of the old ones."""

    begin: int
    end: int
    new: bytes


def splice_dxf(
    source: DxfSource,
    data: bytes,
    edits: Mapping[int, PathEdit | PointEdit],
    new: Sequence[Added] = (),
) -> bytes:
    """The file with these shapes altered; the very same bytes when there are none.

    `source` is the reading's, `data` the bytes that were read, `edits` go by shape key, `new`
    are marks that are to be drawn as well. Of a repaired file the clean text copy is altered; a
    binary one stays binary. FileError for an alteration that the file cannot hold.
    """
    if not edits and not new:
        return data
    if source.binary is not None:
        if data != source.binary.data:
            raise _other_bytes(source)
        return source.binary.packed(_spliced_text(source, edits, new))
    if data != source.file.pairs.data and not source.cleaned:
        raise _other_bytes(source)
    return _spliced_text(source, edits, new)


def _other_bytes(source: DxfSource) -> FileError:
    return FileError(f"{source.name} is not the file that was read. Open it again.")


def _spliced_text(
    source: DxfSource, edits: Mapping[int, PathEdit | PointEdit], new: Sequence[Added]
) -> bytes:
    """The text form with the shapes altered."""
    clean = source.file.pairs.data
    standard = layers.is_standard(source.file)
    if standard:
        edits = {k: e for k, e in edits.items() if not _is_copy(source.drawn[k])}
    handles = Handles(source.file)
    marks = NewMarks(source, new, handles)
    once, copies = _sorted_out(source, edits)
    found = [_splice(source, key, edits, handles) for key in once]
    found += _block_copies(source, edits, copies, handles, marks)
    copied = {key for keys in copies.values() for key in keys}
    found += [Splice(at, at, drawn) for at, drawn in marks.all(without=copied)]
    for i, value in handles.seed_patch().items():
        begin, end = source.file.pairs.span(i)
        found.append(Splice(begin, end, value or b""))
    out = spliced(clean, found, 0, len(clean))
    if standard and any(isinstance(e, PathEdit) for e in edits.values()):
        return follow(source.file, out, source.mm_per_unit)
    return out


def _is_copy(one: Drawn) -> bool:
    """Is it one of the dense copies, which are made afresh after all others?"""
    return layers.number_of(one.layer) in layers.VALIDATION


def spliced(data: bytes, splices: Iterable[Splice], begin: int, end: int) -> bytes:
    """The bytes begin..end-1 with the splices made; FileError if two touch the same bytes."""
    inner = [(s.begin - begin, s.end - begin, s.new) for s in sorted(splices)]
    return spliced_in(data[begin:end], inner)


def _sorted_out(
    source: DxfSource, edits: Mapping[int, object]
) -> tuple[list[int], dict[Entity, list[int]]]:
    """Edits of entities seen once, and those that need a copy of their block, by INSERT."""
    seen = Counter(one.entity.first for one in source.drawn)
    once: list[int] = []
    copies: dict[Entity, list[int]] = defaultdict(list)
    for key in edits:
        one = source.drawn[key]
        if seen[one.entity.first] == 1:
            once.append(key)
        elif len(one.standing.inserts) == 1 and not one.standing.in_grid:
            copies[one.standing.inserts[0]].append(key)
        else:
            raise _not_alone(source, one)
    for insert in _ones_to_keep(source, copies):
        once += copies.pop(insert)
    return once, copies


def _ones_to_keep(source: DxfSource, copies: Mapping[Entity, list[int]]) -> list[Entity]:
    """One INSERT of each block whose every INSERT is altered: it keeps the block itself.

    Otherwise the block would stay behind as it was, inserted nowhere, and a piece block that
    nothing inserts is read as a piece of its own.
    """
    inserts: dict[str, dict[Entity, None]] = defaultdict(dict)
    for one in source.drawn:
        if one.standing.inserts:
            inserts[one.standing.blocks[0].lower()][one.standing.inserts[-1]] = None
    return [next(iter(found)) for found in inserts.values() if copies.keys() >= found.keys()]


def _not_alone(source: DxfSource, one: Drawn) -> FileError:
    return FileError(
        f"{source.name}: the block “{one.standing.blocks[0]}” is drawn several times through "
        "a grid or another block, so one of them alone cannot be altered. Explode it in the "
        "program that made the file and save it again."
    )


def _splice(
    source: DxfSource, key: int, edits: Mapping[int, PathEdit | PointEdit], handles: Handles
) -> Splice:
    """What the edit makes of the bytes of its entity."""
    one, pairs, edit = source.drawn[key], source.file.pairs, edits[key]
    begin, end = pairs.begin(one.entity.first), pairs.begin(one.entity.end)
    if isinstance(edit, PointEdit):
        return Splice(begin, end, _point(source, one, edit, edits, handles))
    return Splice(begin, end, _path(source.file, one, edit, handles))


def _point(
    source: DxfSource,
    one: Drawn,
    edit: PointEdit,
    edits: Mapping[int, PathEdit | PointEdit],
    handles: Handles,
) -> bytes:
    """A point or writing elsewhere; a notch turns with its line."""
    if edit.new is None:
        return b""
    lines = [
        other
        for key, other in edits.items()
        if isinstance(other, PathEdit)
        and source.drawn[key].standing.inserts == one.standing.inserts
    ]
    is_notch = one.entity.type == "POINT" and layers.number_of(one.layer) in layers.NOTCHES
    turn = turn_with(edit, lines) if is_notch else 0.0
    single = SingleWriter(source.file, one.entity, one.to_mm, handles)
    return single.moved(edit.new - edit.old, turn=turn)


def _path(file: Layout, one: Drawn, edit: PathEdit, handles: Handles) -> bytes:
    path = shapes.path(file, one.entity, one.to_mm)
    if path is None:
        raise FileError(f"{file.pairs.name}: an altered line is not in the file. Open it again.")
    changed = changes(path, edit, file.pairs.name)
    if not changed:
        return file.pairs.bytes_of(one.entity.first, one.entity.end)
    if one.entity.type in ("LWPOLYLINE", "POLYLINE"):
        return PolylineWriter(file.pairs, one.entity, one.to_mm, handles).written(changed)
    single = SingleWriter(file, one.entity, one.to_mm, handles)
    return single.written(edit, changed)


def _block_copies(
    source: DxfSource,
    edits: Mapping[int, PathEdit | PointEdit],
    copies: Mapping[Entity, list[int]],
    handles: Handles,
    marks: NewMarks,
) -> list[Splice]:
    """For each INSERT altered alone: its block copied, and the INSERT pointed at the copy."""
    file = source.file
    copier = BlockCopier(file, handles, set(file.blocks))
    out = []
    added: dict[int, bytes] = defaultdict(bytes)
    for insert, keys in copies.items():
        block = file.blocks[source.drawn[keys[0]].standing.blocks[0].lower()]
        name = copier.name_for(block)
        inner = [_splice(source, key, edits, handles) for key in keys]
        inner += [Splice(at, at, drawn) for at, drawn in marks.beside(keys)]
        edited = _edited_block(source, block, inner)
        copy, at, record = copier.copy(block, edited, name)
        added[file.pairs.begin(block.end)] += copy
        if record:
            added[at] += record
        begin, end = file.pairs.span(name_pair(file, insert))
        out.append(Splice(begin, end, name))
    return out + [Splice(at, at, new) for at, new in added.items()]


def _edited_block(source: DxfSource, block: Block, inner: Sequence[Splice]) -> bytes:
    pairs = source.file.pairs
    if not inner:
        return patched(pairs, block.first, block.end, {})
    return spliced(pairs.data, inner, pairs.begin(block.first), pairs.begin(block.end))
