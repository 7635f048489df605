"""ezdxf writes a font cache at its import: give it a folder that goes away."""

from __future__ import annotations

import atexit
import os
import shutil
import sys
import tempfile
from pathlib import Path

_CACHE = tempfile.mkdtemp(prefix="hemward-test-cache-")
os.environ["XDG_CACHE_HOME"] = _CACHE
atexit.register(shutil.rmtree, _CACHE, ignore_errors=True)

# The helper dxf_made.py stands beside the tests.
sys.path.insert(0, str(Path(__file__).parent))
