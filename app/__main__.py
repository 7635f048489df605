"""``hemward``: the window, or without a screen ``hemward inspect`` and ``hemward alter``."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from app.command.arguments import parse
from core.errors import HemwardError
from core.measure import Unit, told_in

DONE, COULD_NOT, WRONG_USAGE = 0, 1, 2


def main(argv: Sequence[str] | None = None) -> int:
    """Runs one command; 0 done, 1 could not (one sentence on stderr), 2 wrong usage."""
    arguments = parse(sys.argv[1:] if argv is None else argv)
    try:
        return int(arguments.run(arguments))
    except HemwardError as error:
        told = told_in(str(error), getattr(arguments, "tell_in", Unit.CM))
        print(f"hemward: {told}", file=sys.stderr)
    except BrokenPipeError:
        # The reader of our output has gone; nothing is left to be said.
        sys.stderr.close()
    except KeyboardInterrupt:
        print("hemward: stopped. Nothing was changed.", file=sys.stderr)
    except Exception as error:
        print(_unforeseen(error), file=sys.stderr)
    return COULD_NOT


def _unforeseen(error: Exception) -> str:
    return (
        "hemward: something went wrong that was not foreseen"
        f" ({type(error).__name__}: {error}). No file was changed; please report it."
    )


if __name__ == "__main__":
    sys.exit(main())
