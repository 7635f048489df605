"""A block that is inserted several times and altered in one place gets a copy for that."""

from __future__ import annotations

from dataclasses import dataclass

from core.errors import FileError
from core.files.dxf.bytes_out import HANDLE_CODES, Handles, others_data, patched
from core.files.dxf.pairs import Pairs
from core.files.dxf.records import Block, Entity, Layout

OWNED = 360
REFERENCES = (*range(320, 370), 1005)


@dataclass(frozen=True)
class BlockCopier:
    """Makes copies of blocks under fresh names."""

    file: Layout
    handles: Handles
    taken: set[str]

    def name_for(self, block: Block) -> bytes:
        """A name like the block's that no block has yet, in the file's encoding."""
        # A name with an asterisk is one that programs make up and throw away.
        base, k = block.name.lstrip("*"), 2
        while f"{base}_{k}".lower() in self.taken:
            k += 1
        name = f"{base}_{k}"
        self.taken.add(name.lower())
        return name.encode(self.file.encoding, "replace")

    def copy(self, block: Block, edited: bytes, name: bytes) -> tuple[bytes, int, bytes]:
        """The copied block, and where in the file (byte) which block record goes.

        `edited` are the block's bytes with its changes made. FileError where the block
        owns data that cannot be doubled.
        """
        record = self.file.block_records.get(block.name.lower())
        fresh: dict[bytes, bytes] = {}
        at, table = 0, b""
        if record is not None:
            at, table = self._record(*record, name, fresh)
        lines = edited.split(b"\n") if b"\n" in self.file.pairs.newline else edited.split(b"\r")
        for k in range(0, len(lines) - 1, 2):
            if int(lines[k]) in HANDLE_CODES:
                fresh[lines[k + 1].strip()] = self.handles.fresh()
        for k in range(0, len(lines) - 1, 2):
            lines[k + 1] = self._value(int(lines[k]), lines[k + 1], fresh, block)
        joined = (b"\n" if b"\n" in self.file.pairs.newline else b"\r").join(lines)
        return self._renamed(joined, block, name), at, table

    def _value(self, code: int, line: bytes, fresh: dict[bytes, bytes], block: Block) -> bytes:
        """The value line with handles of the copy."""
        if code not in HANDLE_CODES and code not in REFERENCES:
            return line
        handle = line.strip()
        if code == OWNED and handle not in fresh:
            raise FileError(
                f"{self.file.pairs.name}: the block “{block.name}” is inserted several times and "
                "carries data that cannot be copied, so one insert alone cannot be altered. "
                "Explode the inserts in the program that made the file and save it again."
            )
        return line.replace(handle, fresh.get(handle, handle)) if handle else line

    def _renamed(self, copy: bytes, block: Block, name: bytes) -> bytes:
        """The BLOCK record of the copy under its new name (codes 2 and 3)."""
        pairs, fields = self.file.pairs, _block_fields(self.file.pairs, block)
        old = pairs.value(fields[2]) if 2 in fields else b""
        end = b"\n" if b"\n" in pairs.newline else b"\r"
        lines = copy.split(end)
        k = 2
        while k < len(lines) - 1 and int(lines[k]) != 0:
            if int(lines[k]) in (2, 3):
                lines[k + 1] = lines[k + 1].replace(old, name) if old else name
            k += 2
        return end.join(lines)

    def _record(
        self, first: int, end: int, name: bytes, fresh: dict[bytes, bytes]
    ) -> tuple[int, bytes]:
        """The copied entry of the block table, to be put behind the original."""
        pairs = self.file.pairs
        fields = pairs.fields(first, end)
        patch: dict[int, bytes | None] = {fields[2]: name}
        if 5 in fields:
            handle = self.handles.fresh()
            fresh[pairs.value(fields[5])] = handle
            patch[fields[5]] = handle
        patch.update(dict.fromkeys(others_data(pairs, first, end)))
        return pairs.begin(end), patched(pairs, first, end, patch)


def _block_fields(pairs: Pairs, block: Block) -> dict[int, int]:
    zeros = pairs.positions(block.first + 1, block.end, 0)
    return pairs.fields(block.first, int(zeros[0]) if len(zeros) else block.end)


def name_pair(file: Layout, insert: Entity) -> int:
    """The pair in which an INSERT names its block."""
    return file.pairs.fields(insert.first, insert.head)[2]
