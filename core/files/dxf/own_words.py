"""Words of the trade that a clean DXF of ours keeps with its lines ("side seam", "pocket").

They stand in the extended data of the entity (DXF reference: 1001 names who keeps them, 1000
is text), where other programs leave them alone; layers have numbers and no words.
"""

from __future__ import annotations

from core.files.dxf.pairs import Pairs
from core.files.dxf.records import Entity

OWNER = "HEMWARD"
# The standard wants it, nothing in the pattern says it: it is left out on the way to other kinds.
ADDED = "added"
_OWNER = OWNER.encode("ascii")
OWNER_CODE, TEXT_CODE = 1001, 1000


def keeps_words(pairs: Pairs) -> bool:
    """May any entity of the file have such words? Hardly any file has."""
    return _OWNER in pairs.data


def said_of(pairs: Pairs, entity: Entity) -> tuple[str, ...]:
    """Our words with that entity; none where another program keeps its own."""
    out: list[str] = []
    for first in pairs.positions(entity.first, entity.head, OWNER_CODE).tolist():
        if pairs.value(first) != _OWNER:
            continue
        for i in range(first + 1, entity.head):
            if pairs.codes[i] != TEXT_CODE:
                break
            out.append(pairs.value(i).decode("ascii", "replace"))
    return tuple(out)
