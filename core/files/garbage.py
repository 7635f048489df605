"""When Python looks for garbage around the reading of a file."""

from __future__ import annotations

import contextlib
import gc
from collections.abc import Iterator

# As many things as this are kept track of anyway: no more than a hundred megabytes.
FEW = 500_000


class _Tracked:
    """How many things Python keeps track of: all, when it last looked through them here, and those
    that readings made since."""

    all = 0
    since = 0


@contextlib.contextmanager
def no_collecting() -> Iterator[None]:
    """Looking for rings of garbage costs a third of the time where all that is made is kept.

    It counts as old afterwards: else it would be looked through at once, and twice more. Python
    looks through what is old only when much has become old since; so what was read before and
    thrown away is looked for here, once it may be half of all there is.
    """
    before = gc.isenabled()
    if before and _Tracked.since > max(FEW, _Tracked.all):
        gc.collect()
        _Tracked.all, _Tracked.since = _count(), 0
    gc.disable()
    try:
        yield
    finally:
        if before:
            # Counting them all would take longer than many a reading.
            _Tracked.since += gc.get_count()[0]
            gc.freeze()
            gc.unfreeze()
            gc.enable()


def _count() -> int:
    """How many things Python keeps track of."""
    gc.freeze()
    count = gc.get_freeze_count()
    gc.unfreeze()
    return count
