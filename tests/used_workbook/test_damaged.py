"""Damaged used workbooks end in one message, never in an error that nobody caught."""

from __future__ import annotations

from pathlib import Path

import fuzz_used
import pytest
from tiny_shop import built
from workbook_file import WorkbookFile

from xlfab.core.errors import ScenarioError
from xlfab.used_workbook.audit import audit
from xlfab.used_workbook.read_back import read_inputs


def test_a_few_damaged_files_are_taken_or_refused(tmp_path: Path) -> None:
    outcomes = fuzz_used.run(built(tmp_path, "quote"), tmp_path, 9, 5)
    assert not [said for said in outcomes if said.startswith("TRACEBACK")]
    assert outcomes["refused"] > 0


def test_a_changed_record_is_not_read_and_a_document_type_is_refused(tmp_path: Path) -> None:
    file = WorkbookFile(built(tmp_path, "quote"))
    strings = file.tree("xl/sharedStrings.xml")
    text = next(item for item in strings.iter("{*}t") if (item.text or "").startswith('{"form"'))
    text.text = text.text.replace('"thickness_mm"', '"thicknes_mm"', 1)
    with pytest.raises(ScenarioError, match="record of how it was built was changed"):
        read_inputs(file.save(tmp_path / "changed.xlsx"))
    file = WorkbookFile(built(tmp_path, "quote"))
    part = file.parts["xl/styles.xml"]
    file.parts["xl/styles.xml"] = part.replace(b"?>", b'?><!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/passwd">]>', 1)
    with pytest.raises(ScenarioError, match="declares XML entities"):
        audit(file.save(tmp_path / "entities.xlsx"))


def test_an_empty_row_at_the_end_of_the_sheet_is_no_fault(tmp_path: Path) -> None:
    """LibreOffice writes one where a row was deleted."""
    file = WorkbookFile(built(tmp_path, "quote"))
    file.row("Parts", 1_048_576)
    assert audit(file.save(tmp_path / "last_row.xlsx")).findings == []
