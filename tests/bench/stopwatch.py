"""What the benches of files share: the processor's time for a piece of work."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable


def seconds(work: Callable[[bytes], None], data: bytes) -> float:
    """The median of several runs, fewer for large files."""
    times = []
    for _ in range(3 if len(data) > 3_000_000 else 5):
        start = time.process_time()
        work(data)
        times.append(time.process_time() - start)
    return statistics.median(times)
