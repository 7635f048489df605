"""What the table says of itself and of its grips."""

from __future__ import annotations

from app.window.table.holds import Part
from app.window.table.pointing import Under

GRIP_TIP = (
    "Drag to make the pieces longer or shorter, in steps of 5 mm or 1/8 inch."
    " With Shift in steps of 1 mm or 1/16 inch, with Alt freely. Esc takes it back."
)
LEVEL_GRIP_TIP = (
    "Drag to lay the level elsewhere. On pieces that are sewn together it meets in the seams."
    " Steps and Esc as for a hem."
)
HELP = (
    "The pieces at true scale. Arrow down makes them longer, arrow up shorter, by 1 mm or"
    " 1/16 inch; with Shift by 1 cm or 1/2 inch. Plus and minus zoom, F shows everything."
)
HOLD_TIPS = {
    Part.TAPER: "The taper point: here the fit line of the seam stops and the shape of the hem"
    " begins. Slide it along the seam where it lies wrong; Esc takes it back.",
    Part.SEAM_END: "Where the seam ends now. Draw it outwards or inwards, and both seams turn so"
    " that the hem gets that width.",
}


def tip_of(under: Under) -> str:
    """What a grip does; nothing where there is none."""
    if under.hem_grip is not None:
        return GRIP_TIP
    if under.level_grip is not None:
        return LEVEL_GRIP_TIP
    return HOLD_TIPS[under.hold.part] if under.hold is not None else ""
