"""Remembering what was made of values, told by their identity; making late what few ask for."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from functools import cached_property
from typing import Any, ParamSpec, TypeVar

Given = ParamSpec("Given")
Made = TypeVar("Made")


def kept(*, most: int) -> Callable[[Callable[Given, Made]], Callable[Given, Made]]:
    """Has a function of values that never change remember its last `most` answers.

    Arguments are given in order, without keywords, and are the same only if they are the very
    same: equality would hash and compare thousands of coordinates to find an outline again.
    """

    def keeping(make: Callable[Given, Made]) -> Callable[Given, Made]:
        found: OrderedDict[tuple[int, ...], tuple[object, Made]] = OrderedDict()

        def answer(*args: Given.args, **none: Given.kwargs) -> Made:
            key = tuple(map(id, args))
            # Taken out and put in last, each in one step: work beside the window asks here too.
            known = found.pop(key, None)
            if known is not None:
                found[key] = known
                return known[1]
            made = make(*args, **none)
            # Holding the arguments too keeps their ids from being given to others.
            found[key] = args, made
            if len(found) > most:
                found.popitem(last=False)
            return made

        return answer

    return keeping


def when_asked(make: Callable[[Any], object]) -> Any:
    """The default of a field of a frozen value with an ``__init__`` of its own: what is not put in
    its ``__dict__`` there is made when somebody first asks for it. A large file says a hundred
    thousand things that nobody asks for.
    """
    return cached_property(make)
