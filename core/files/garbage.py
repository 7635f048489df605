"""When Python looks for garbage around the reading of a file."""

from __future__ import annotations

import contextlib
import gc
from collections.abc import Iterator

# As many things as this are kept track of anyway: no more than a hundred megabytes.
FEW = 500_000


class _Tracked:
    """How many things Python keeps track of: after the last reading, and after it last looked
    through all of them."""

    now = 0
    after_look = 0


@contextlib.contextmanager
def no_collecting() -> Iterator[None]:
    """Looking for rings of garbage costs a third of the time where all that is made is kept.

    It counts as old afterwards: else it would be looked through at once, and twice more. Python
    looks through what is old only when much has become old since; so what was read before and
    thrown away is looked for here, once it may be half of all there is.
    """
    before = gc.isenabled()
    if before and _Tracked.now > max(FEW, 2 * _Tracked.after_look):
        gc.collect()
        _Tracked.after_look = _made_old()
    gc.disable()
    try:
        yield
    finally:
        if before:
            _Tracked.now = _made_old()
            gc.enable()


def _made_old() -> int:
    """Makes all there is count as old; how many things that are."""
    gc.freeze()
    count = gc.get_freeze_count()
    gc.unfreeze()
    return count
