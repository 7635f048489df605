"""What the table says of itself and of its grips."""

from __future__ import annotations

GRIP_TIP = (
    "Drag to make the pieces longer or shorter, in steps of 5 mm or 1/8 inch."
    " With Shift in steps of 1 mm or 1/16 inch, with Alt freely. Esc takes it back."
)
LEVEL_GRIP_TIP = (
    "Drag to lay the level elsewhere. On pieces that are sewn together it meets in the seams."
    " Steps and Esc as for a hem."
)
HELP = (
    "The pieces at true scale. Arrow down makes them longer, arrow up shorter, by one step;"
    " with Shift by 1 cm or 1/2 inch. Plus and minus zoom, F shows everything."
)
