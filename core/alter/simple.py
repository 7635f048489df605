"""Is an outline one simple ring?"""

from __future__ import annotations

import shapely

from core.curve import Ring

# Flattening for this yes-or-no question only, in mm.
TOLERANCE = 0.05


def is_simple(ring: Ring) -> bool:
    """Does the outline nowhere cross or touch itself (to within the flattening)?"""
    return bool(shapely.is_simple(shapely.linearrings(ring.flattened(tolerance=TOLERANCE))))
