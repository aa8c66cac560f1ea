"""Every table of a scenario that was read back, worked out anew."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from xlfab.inputs.scenario import load
from xlfab.used_workbook.compared import tried
from xlfab.used_workbook.read_back import ReadInputs


def recomputed(folder: Path, read: ReadInputs) -> list[Any]:
    """The tables of a comparison or a quote on what was read."""
    scenario = load(folder)
    if read.used.known.kind == "quote":
        from xlfab.quote.quote_file import load_quote
        from xlfab.quote.quote_job import quote_job

        record = read.used.known.record
        job = quote_job(scenario, load_quote(folder, scenario), record.option, record.against)
        return tried(job, read.tables)
    from xlfab.comparison.compare import compare
    from xlfab.comparison.comparison_workbook import plan_comparison

    book = plan_comparison(compare(scenario))
    return list({id(table): table for sheet in book.sheets for table, _, _ in sheet.columns}.values())
