"""What sabotages of workbooks have in common: the two lists of them, and the place that each returns."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from workbook_file import WorkbookFile

Place = tuple[str, str]
Sabotage = Callable[[WorkbookFile], Place]
QUOTE: dict[str, Sabotage] = {}
COMPARISON: dict[str, Sabotage] = {}


def quote(function: Sabotage) -> Sabotage:
    """A sabotage of the quote workbook."""
    QUOTE[function.__name__] = function
    return function


def comparison(function: Sabotage) -> Sabotage:
    """A sabotage of the comparison workbook."""
    COMPARISON[function.__name__] = function
    return function


def typed(name: str, kind: dict[str, Sabotage], table: str, column: str, row: int, value: Any) -> None:
    """A sabotage that types one value into a cell."""
    kind[name] = lambda file: file.type(table, column, row, value)


def rewritten(
    name: str, kind: dict[str, Sabotage], table: str, column: str, row: int, change: Callable[[str], str]
) -> None:
    """A sabotage that changes one formula."""

    def sabotage(file: WorkbookFile) -> Place:
        place = file.place(table, column, row)
        before = file.formula(*place)
        assert change(before) != before, name
        return file.put(*place, "=" + change(before))

    kind[name] = sabotage
