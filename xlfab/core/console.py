"""The one way to the terminal: what comes from outside is text and nothing else, whatever it looks like.

    say(f"Workbook: {file}")        a line; [brackets] are printed as they are
    say(table)                      a rich table, its cells printed as they are
    complain("...")                 one message on the error stream, cut where it is too long

A narrow, dumb or closed terminal, and one without these letters, gets plain text and never an error.
"""

from __future__ import annotations

import os
import re
import sys
from typing import Any

LONGEST = 4_000  # letters of one message; more are counted
NARROWEST = 20  # columns; a terminal that claims less has not said how wide it is
_CONTROLS = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")


def plain(text: str) -> str:
    """A text without control characters and without what turns the direction of writing, each shown as a question mark.

    >>> plain("part\\x1b[31m")
    'part?[31m'
    """
    return _CONTROLS.sub("?", text)


def cut(text: str, letters: int = LONGEST) -> str:
    """A message that is not too long; what is left out is counted.

    >>> cut("abcdef", 3)
    'abc ... (3 more characters)'
    """
    return text if len(text) <= letters else f"{text[:letters]} ... ({len(text) - letters} more characters)"


def terminal(piped_width: int = 80) -> Any:
    """A rich console that never takes text for markup; `piped_width` holds where the output is no terminal."""
    from rich.console import Console

    columns = os.environ.get("COLUMNS", "")
    stated = int(columns) if columns.isascii() and columns.isdigit() and len(columns) < 6 else 0
    is_terminal = sys.stdout is not None and sys.stdout.isatty()
    width = stated if stated >= NARROWEST else None if is_terminal else piped_width
    if width is None and columns:
        width = piped_width
    return Console(markup=False, emoji=False, highlight=False, width=width)


class Printer:
    """What the commands print with; the terminal is looked at when something is printed, so that a command loads fast."""

    def __init__(self, piped_width: int = 80) -> None:
        self.piped_width = piped_width

    def print(self, *things: Any, **how: Any) -> None:
        """Print lines and tables; `how` is what rich's print takes (soft_wrap, style, end)."""
        terminal(self.piped_width).print(
            *(plain(thing) if isinstance(thing, str) else thing for thing in things), **how
        )


def say(*things: Any, **how: Any) -> None:
    """Print lines and tables on a terminal of the usual width."""
    Printer().print(*things, **how)


def complain(message: object) -> None:
    """Print one message on the error stream."""
    if sys.stderr is not None:
        print(f"xlfab: {cut(plain(str(message)))}", file=sys.stderr)
