"""What sewn-products interchange writes on a piece for itself (ASTM D6673, clause 4.3)."""

from __future__ import annotations

import re

# The name ends with its line: below it there may be more that is said of the piece.
PIECE_NAME = re.compile(r"\s*piece\s*name\s*:\s*([^\n]*?)[^\S\n]*(?:\n|$)", re.IGNORECASE)
UNIT_TEXT = re.compile(
    r"\s*units?\s*:\s*(metric|english|imperial|mm|millimet(?:er|re)s?|cm|centimet(?:er|re)s?"
    r"|in|inch(?:es)?)\s*$",
    re.IGNORECASE,
)
