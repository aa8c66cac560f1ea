"""A logger's .xlsx workbook as a stream of rows: numbers as they are, dates and times as text."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

from xlfab.core.errors import ScenarioError
from xlfab.core.workbook_reading import check_workbook


def stream_rows(path: Path) -> Iterator[list[Any]]:
    """Rows of the first visible sheet with two rows and two columns; a blank row is an empty list."""
    try:
        check_workbook(path)
    except ScenarioError as error:
        raise ScenarioError(f"{error}; a long log is better exported as CSV") from error
    import openpyxl

    try:
        book = openpyxl.load_workbook(path, read_only=True, data_only=True, keep_links=False)
        try:
            for sheet in book.worksheets:
                if sheet.sheet_state == "visible":
                    sheet.reset_dimensions()
                    yield from (_fields(row) for row in sheet.iter_rows(values_only=True))
                    return
        finally:
            book.close()
    except ScenarioError:
        raise
    except Exception as error:  # openpyxl raises whatever a broken part makes it raise
        raise ScenarioError(
            f"{path.name}: it cannot be read as a workbook ({type(error).__name__}: {str(error)[:200]})"
        ) from error


def _fields(row: tuple[Any, ...]) -> list[Any]:
    last = max((place for place, cell in enumerate(row) if cell is not None), default=-1)
    return [_field(cell) for cell in row[: last + 1]]


def _field(cell: Any) -> Any:
    if cell is None:
        return ""
    if isinstance(cell, datetime):
        return cell.isoformat(" ", "milliseconds")
    if isinstance(cell, timedelta):
        seconds = round(cell.total_seconds(), 3)
        return f"{int(seconds // 3600):02d}:{int(seconds % 3600 // 60):02d}:{seconds % 60:06.3f}"
    if isinstance(cell, (date, time)):
        return cell.isoformat()
    return cell
