"""Reading: bytes to shapes in mm, strict first, through the repairing reader if it must be."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property, reduce
from operator import or_

from core.curve import Affine, Box, Chain, Point, Ring
from core.curve.many import hulls
from core.errors import FileError
from core.files.drawing import Unit
from core.files.dxf import layers, shapes, through_ezdxf, units
from core.files.dxf.binary import NotPlainError, as_text
from core.files.dxf.follow import not_followed
from core.files.dxf.own_words import keeps_words, said_of
from core.files.dxf.pairs import (
    DamagedError,
    index,
    refuse_bad_numbers,
    with_end,
    without_blank_lines,
)
from core.files.dxf.polylines import TooManyPointsError
from core.files.dxf.records import Layout, layout
from core.files.dxf.source import DxfSource
from core.files.dxf.walk import Drawn, Walker
from core.files.reading import Reading
from core.files.written import PIECE_NAME
from core.piece.model import Because, Kind, Shape
from core.piece.words import kind_in

# So many lines with too many points are told one by one.
MOST_TOLD = 5


def read_dxf(name: str, data: bytes, *, mm_per_unit: float | None = None) -> Reading:
    """The shapes of a text or binary DXF in mm, y down.

    `name` is the file's, for sentences; `mm_per_unit` overrides what the file says.
    Raises UnitUnknownError when nobody tells the unit, FileError for what cannot be read.
    """
    if through_ezdxf.is_binary(data):
        return _read_binary(name, data, mm_per_unit)
    try:
        return _read(name, data, mm_per_unit)
    except DamagedError as trouble:
        clean = _without_blanks(data) or _ended(data)
        if clean is None:
            refuse_bad_numbers(name, data)
            clean = through_ezdxf.repaired(name, data, trouble)
        why = (
            f"{name} is damaged and was repaired while it was read: look it over before you use it."
            f" Altered, it is saved in its repaired form. {trouble}"
        )
        return _read_clean(name, clean, why, mm_per_unit)


def _without_blanks(data: bytes) -> through_ezdxf.Cleaned | None:
    """The file without stray blank lines, if that is all that is wrong with it."""
    mended, gone = without_blank_lines(data)
    if not gone:
        return None
    try:
        index("", mended)
    except FileError:
        return None
    where = ", ".join(map(str, gone[:MOST_TOLD])) + (" and more" if len(gone) > MOST_TOLD else "")
    return through_ezdxf.Cleaned(mended, (f"blank lines were left out at line {where}",))


def _ended(data: bytes) -> through_ezdxf.Cleaned | None:
    """The file with its EOF, if nothing else is wrong with it."""
    mended = with_end(data)
    try:
        index("", mended or b"")
    except FileError:
        return None
    return through_ezdxf.Cleaned(mended or b"", ("its end (EOF) was missing and was added",))


def _read_binary(name: str, data: bytes, mm_per_unit: float | None) -> Reading:
    """From its text form, which goes back to the same bytes; else from a cleaned copy."""
    try:
        text, binary = as_text(name, data)
    except NotPlainError:
        clean = through_ezdxf.from_binary(name, data)
        why = f"{name} is a damaged binary DXF. Altered, it is saved as a plain text DXF."
        return _read_clean(name, clean, why, mm_per_unit)
    reading = _read(name, text, mm_per_unit)
    return replace(reading, source=replace(reading.source, binary=binary))


def _read_clean(
    name: str, clean: through_ezdxf.Cleaned, why: str, mm_per_unit: float | None
) -> Reading:
    """The reading of a cleaned copy."""
    reading = _read(name, clean.data, mm_per_unit)
    source = replace(reading.source, cleaned=True)
    repairs = tuple(f"{name}, repaired: {repair.rstrip('.')}." for repair in clean.repairs)
    problems = (why, *repairs, *reading.problems)
    return replace(reading, source=source, cleaned=True, problems=problems)


def _read(name: str, data: bytes, mm_per_unit: float | None) -> Reading:
    file = layout(index(name, data))
    text, header = units.by_texts(_unit_texts(file)), _header_unit(file)
    said = units.stated(text, header, mm_per_unit)
    walker = Walker(file, layers.is_standard(file))
    drawn, found = _shapes(walker, said.mm_per_unit if said is not None else 1.0)
    if not found:
        if walker.too_long:
            raise FileError(walker.too_long[0])
        raise FileError(f"{name} holds no lines or curves that can be read. Is it the right file?")
    if mm_per_unit is not None:
        unit = units.Judged(Unit(mm_per_unit, Because(True, "you said so")), ())
    else:
        unit = units.judged(name, text, header, _box(found, exact=said is None))
    problems = (
        *unit.problems,
        *file.open[:MOST_TOLD],
        *walker.too_long[:MOST_TOLD],
        *_left_out(walker),
        *_validation(file, unit.unit.mm_per_unit),
    )
    shapes_found = tuple(_named(found))
    return Reading(
        unit.unit,
        shapes_found,
        DxfSource(name, file, tuple(drawn), unit.unit.mm_per_unit),
        problems,
    )


def _shapes(walker: Walker, scale: float) -> tuple[list[Drawn], list[Shape]]:
    """All that is drawn, with its shape at `scale` mm a unit."""
    reader = _Reader(walker.file, walker.standard)
    drawn: list[Drawn] = []
    found: list[Shape] = []
    for one in walker.all(Affine(a=scale, d=-scale)):
        try:
            shape = reader.shape(len(found), one)
        except TooManyPointsError as trouble:
            walker.too_long.append(str(trouble))
            continue
        if shape is None:
            walker.leave_out(f"empty {one.entity.type}")
        else:
            drawn.append(one)
            found.append(shape)
    return drawn, found


@dataclass(frozen=True)
class _Reader:
    """Turns what is drawn into shapes."""

    file: Layout
    standard: bool

    def shape(self, key: int, one: Drawn) -> Shape | None:
        """The shape with that key; None where nothing that can be followed is drawn."""
        geometry, text = self._geometry(one)
        if geometry is None:
            return None
        blocks = one.standing.blocks
        said = self._said(one)
        kind = self._kind(one, isinstance(geometry, Point))
        if kind is Kind.INNER and kind_in(said) is Kind.DART:
            # No numbered layer is that of darts.
            kind = Kind.DART
        return Shape(
            key,
            geometry,
            words=(one.layer, *said, *blocks),
            group=one.standing.group,
            group_name=blocks[0] if blocks else "",
            kind=kind,
            text=text,
            hidden=one.hidden or one.on_paper,
        )

    @cached_property
    def _has_words(self) -> bool:
        return keeps_words(self.file.pairs)

    def _said(self, one: Drawn) -> tuple[str, ...]:
        return said_of(self.file.pairs, one.entity) if self._has_words else ()

    def _geometry(self, one: Drawn) -> tuple[Ring | Chain | Point | None, str]:
        if one.entity.type in shapes.PATHS:
            return shapes.geometry(self.file, one.entity, one.to_mm), ""
        of = shapes.numbers(self.file.pairs, one.entity)
        place = one.to_mm.point(of.point())
        writing = one.entity.type in shapes.WRITING
        return place, shapes.words_of(self.file, of) if writing else ""

    def _kind(self, one: Drawn, is_point: bool) -> Kind | None:
        if one.entity.type in shapes.WRITING:
            return Kind.TEXT
        if one.on_paper:
            return Kind.ASIDE
        if not self.standard or one.standing.group is None:
            return None
        return layers.kind_of(one.layer, is_point=is_point)


def _header_unit(file: Layout) -> units.Said | None:
    at = file.header.get("$INSUNITS")
    return units.by_header(file.pairs.whole(at)) if at is not None else None


def _unit_texts(file: Layout) -> Iterator[str]:
    """All writing on layer 1, inserted or not."""
    for entities in (file.entities, *(b.entities for b in file.blocks.values())):
        for e in entities:
            if e.type in shapes.WRITING and layers.number_of(file.layer_of(e)) == layers.BOUNDARY:
                yield shapes.words_of(file, shapes.numbers(file.pairs, e))


def _box(found: Iterable[Shape], *, exact: bool) -> Box | None:
    """The box around all visible lines, or (not `exact`) around their handles too."""
    chains = [s.geometry for s in found if isinstance(s.geometry, Chain) and not s.hidden]
    if not chains:
        return None
    if not exact:
        boxes = hulls(chains)
        return Box(*boxes[:, :2].min(axis=0).tolist(), *boxes[:, 2:].max(axis=0).tolist())
    return reduce(or_, (chain.bounds() for chain in chains))


def _named(found: list[Shape]) -> Iterator[Shape]:
    """The shapes, with the name that a text `Piece Name:` gives their group."""
    names: dict[int | None, str] = {}
    for shape in found:
        said = PIECE_NAME.match(shape.text) if shape.text else None
        if said and said[1] and shape.group is not None:
            names.setdefault(shape.group, said[1])
    for shape in found:
        yield replace(shape, group_name=names[shape.group]) if shape.group in names else shape


def _left_out(walker: Walker) -> Iterable[str]:
    if not walker.left_out:
        return
    listed = ", ".join(f"{n} x {what}" for what, n in sorted(Counter(walker.left_out).items()))
    yield f"{walker.file.pairs.name}: kept in the file, but not read: {listed}."


def _validation(file: Layout, mm_per_unit: float) -> Iterable[str]:
    unclear = not_followed(file, mm_per_unit) if layers.is_standard(file) else []
    if unclear:
        yield (
            f"{file.pairs.name}: a validation curve on layers 84 to 87 copies no line that is "
            f"drawn ({', '.join(unclear[:5])}), so it is not redrawn when the piece is altered."
        )
