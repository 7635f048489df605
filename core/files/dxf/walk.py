"""All that is drawn, with the way from its own coordinates to the page: INSERTs followed."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from core.curve import Affine
from core.errors import FileError
from core.files.dxf import layers, shapes
from core.files.dxf.records import Block, Entity, Layout

DEEPEST = 32
MOST_INSERTS = 20_000
MOST_DRAWN = 2_000_000
# Bytes that INSERTs draw beyond those of the file, all told: each time all of them is read.
MOST_REPEATED = 4_000_000
# Splines with weights, of a high degree or through fit points: each takes as long as ten others.
MOST_SLOW = 8_000
INVISIBLE, PAPER = 60, 67


@dataclass(frozen=True, slots=True)
class Standing:
    """Where one goes: the map to the page, the blocks around, and what they bring along.

    ``blocks`` are the block names, nearest first; ``inserts`` the INSERTs passed through.
    """

    to_page: Affine
    blocks: tuple[str, ...] = ()
    inserts: tuple[Entity, ...] = ()
    group: int | None = None
    layer: str = "0"
    hidden: bool = False
    in_grid: bool = False


class Drawn(NamedTuple):
    """One entity as it is seen once; ``to_mm`` maps its own coordinates to the page."""

    entity: Entity
    to_mm: Affine
    layer: str
    standing: Standing
    hidden: bool
    on_paper: bool


@dataclass
class Walker:
    """Follows a file's INSERTs, counting groups, and keeps what it had to leave out."""

    file: Layout
    standard: bool
    groups: int = 0
    inserts: int = 0
    drawn: int = 0
    repeated: int = 0
    seen: set[str] = field(default_factory=set)
    left_out: dict[str, int] = field(default_factory=dict)
    too_long: list[str] = field(default_factory=list)
    slow: int = 0

    def all(self, to_page: Affine) -> Iterator[Drawn]:
        """Everything drawn, then the piece blocks that nothing inserts."""
        yield from self._entities(self.file.entities, Standing(to_page))
        for block in self._loose_pieces():
            if block.name.lower() not in self.seen:
                yield from self._block(block, self._opened(block, Standing(to_page), Affine()))

    def _loose_pieces(self) -> list[Block]:
        """Blocks with a boundary that no INSERT reached, outermost only."""
        if not self.standard:
            return []
        file = self.file
        inner = {
            _name(file, e).lower()
            for b in file.blocks.values()
            for e in b.entities
            if e.type == "INSERT"
        }
        return [
            b
            for key, b in file.blocks.items()
            if key not in self.seen and key not in inner and layers.holds_boundary(file, b)
        ]

    def _entities(self, entities: tuple[Entity, ...], standing: Standing) -> Iterator[Drawn]:
        for entity in entities:
            if entity.type == "INSERT":
                yield from self._insert(entity, standing)
            elif entity.type in shapes.PATHS or entity.type in shapes.POINTS:
                yield from self._one(entity, standing)
            elif entity.type != "ATTDEF":
                self.leave_out(entity.type)

    def leave_out(self, what: str) -> None:
        """Count something that is kept in the file but not read."""
        self.left_out[what] = self.left_out.get(what, 0) + 1

    def _one(self, entity: Entity, standing: Standing) -> Iterator[Drawn]:
        self.drawn += 1
        if standing.inserts:
            pairs = self.file.pairs
            self.repeated += pairs.begin(entity.end) - pairs.begin(entity.first)
        if self.drawn > MOST_DRAWN or self.repeated > len(self.file.pairs.data) + MOST_REPEATED:
            raise self._too_much(entity)
        of = shapes.numbers(self.file.pairs, entity)
        plane = shapes.own_plane(of).to_drawing
        if plane is None:
            self.leave_out(f"leaning {entity.type}")
            return
        if entity.type == "SPLINE" and self._is_too_slow(of):
            return
        layer, hidden = self._layer(of, standing)
        to_mm = standing.to_page if plane is shapes.AS_IT_IS else standing.to_page @ plane
        yield Drawn(entity, to_mm, layer, standing, hidden, _on_paper(of))

    def _is_too_slow(self, of: shapes.Numbers) -> bool:
        """Is it one more of the splines that take long than are followed?"""
        work = shapes.slow_spline(of)
        self.slow += work
        if not work or self.slow <= MOST_SLOW:
            return False
        self.leave_out(f"SPLINE with weights or fit points beyond the first {MOST_SLOW}")
        return True

    def _layer(self, of: shapes.Numbers, standing: Standing) -> tuple[str, bool]:
        """The layer it shows on (that of the INSERT for "0"), and whether it is hidden."""
        layer = self.file.text(of.at[8]) if 8 in of.at else "0"
        if layer == "0":
            layer = standing.layer
        told = self.file.layers.get(layer.lower())
        switched = told is not None and (told.off or told.frozen)
        return layer, standing.hidden or switched or _is_set(of, INVISIBLE)

    def _insert(self, entity: Entity, standing: Standing) -> Iterator[Drawn]:
        block = self._inserted_block(entity, standing)
        of = shapes.numbers(self.file.pairs, entity)
        plane = shapes.own_plane(of).to_drawing
        if block is None or plane is None or _on_paper(of):
            self.leave_out("INSERT" if plane is not None else "leaning INSERT")
            return
        layer, hidden = self._insert_layer(of, standing)
        inside = replace(standing, layer=layer, hidden=hidden, inserts=(*standing.inserts, entity))
        cells = _cells(of)
        self.inserts += len(cells)
        if self.inserts > MOST_INSERTS:
            raise self._too_much(entity)
        inside = replace(inside, in_grid=standing.in_grid or len(cells) > 1)
        for cell in cells:
            yield from self._block(block, self._opened(block, inside, plane @ cell))

    def _insert_layer(self, of: shapes.Numbers, standing: Standing) -> tuple[str, bool]:
        """A frozen layer hides what is inserted on it; one that is off hides only layer 0."""
        layer, hidden = self._layer(of, standing)
        told = self.file.layers.get(layer.lower())
        if told is not None and told.off and not told.frozen:
            hidden = standing.hidden or _is_set(of, INVISIBLE)
        return layer, hidden

    def _inserted_block(self, entity: Entity, standing: Standing) -> Block | None:
        block = self.file.blocks.get(_name(self.file, entity).lower())
        if block is None:
            return None
        depth = len(standing.inserts)
        if block.name in standing.blocks or depth >= DEEPEST:
            raise FileError(
                f"{self.file.pairs.name}, line {self.file.pairs.line(entity.first)}: the block "
                f"“{block.name}” is inserted into itself or nested too deeply. Explode it in "
                "the program that made the file and save again."
            )
        return block

    def _opened(self, block: Block, standing: Standing, place: Affine) -> Standing:
        """The standing inside one insert of the block.

        A nested block belongs to the piece around it, unless it is a piece itself.
        """
        self.seen.add(block.name.lower())
        group = standing.group
        if group is None or not self.standard or layers.holds_boundary(self.file, block):
            group = self.groups
            self.groups += 1
        to_page = standing.to_page @ place @ Affine.move(-block.base[0], -block.base[1])
        blocks = (block.name, *standing.blocks)
        return replace(standing, to_page=to_page, blocks=blocks, group=group)

    def _block(self, block: Block, standing: Standing) -> Iterator[Drawn]:
        yield from self._entities(block.entities, standing)

    def _too_much(self, entity: Entity) -> FileError:
        return FileError(
            f"{self.file.pairs.name}, line {self.file.pairs.line(entity.first)}: blocks within "
            "blocks draw far more than any pattern holds. Save the pieces without nested blocks."
        )


def _name(file: Layout, insert: Entity) -> str:
    fields = file.pairs.fields(insert.first, insert.head)
    return file.text(fields[2]) if 2 in fields else ""


def _on_paper(of: shapes.Numbers) -> bool:
    return _is_set(of, PAPER)


def _is_set(of: shapes.Numbers, code: int) -> bool:
    return code in of.at and int(of.get(code)) == 1


def _cells(of: shapes.Numbers) -> list[Affine]:
    """The map of each cell of an INSERT: one, or a grid of rows and columns."""
    turn = Affine.turn(math.radians(of.get(50, 0.0)))
    if of.get(50, 0.0) % 90.0 == 0.0:
        turn = _quarter_turns(round(of.get(50, 0.0) / 90.0) % 4)
    place = Affine.move(of.get(10, 0.0), of.get(20, 0.0)) @ turn
    size = Affine.scale(of.get(41, 1.0) or 1.0, of.get(42, 1.0) or 1.0)
    columns, rows = max(1, int(of.get(70, 1.0))), max(1, int(of.get(71, 1.0)))
    if columns * rows > MOST_INSERTS:
        columns, rows = MOST_INSERTS + 1, 1
    across, up = of.get(44, 0.0), of.get(45, 0.0)
    return [
        place @ Affine.move(i * across, j * up) @ size for j in range(rows) for i in range(columns)
    ]


def _quarter_turns(count: int) -> Affine:
    """Exact turns, so that whole numbers stay whole."""
    c, s = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[count]
    return Affine(c, s, -s, c)
