"""Hostile and unlucky files are refused with a reason; what is written is whole, and harmless in a spreadsheet."""

import csv
import io
import zipfile
from pathlib import Path

import openpyxl
import pytest

from xlfab.core.errors import ScenarioError
from xlfab.core.reading import read_csv, read_text
from xlfab.core.workbook_reading import check_workbook, open_workbook
from xlfab.core.writing import csv_text, plain_text, safe_text, whole_file, whole_folder


def workbook(path: Path) -> Path:
    book = openpyxl.Workbook()
    book.active["A1"] = "part"
    book.active["A2"] = 1
    book.save(path)
    return path


def repacked(path: Path, name: str, change, compress=zipfile.ZIP_DEFLATED) -> Path:
    """The workbook with one part changed (or added)."""
    with zipfile.ZipFile(path) as archive:
        parts = {item: archive.read(item) for item in archive.namelist()}
    parts[name] = change(parts.get(name, b""))
    with zipfile.ZipFile(path, "w", compress) as archive:
        for item, data in parts.items():
            archive.writestr(item, data)
    return path


SHEET = "xl/worksheets/sheet1.xml"


def test_a_sound_workbook_opens(tmp_path):
    book = open_workbook(workbook(tmp_path / "good.xlsx"))
    assert book.active["A1"].value == "part"


@pytest.mark.parametrize(
    ("name", "change", "reason"),
    [
        (SHEET, lambda data: data.replace(b'r="A2"', b'r="XFD1048576"'), "XFD1048576"),
        (SHEET, lambda data: data.replace(b'<row r="2"', b'<row r="1048576"'), "1048576"),
        (
            SHEET,
            lambda data: data.replace(
                b"</sheetData>", b'</sheetData><mergeCells><mergeCell ref="A1:ALL50000"/></mergeCells>'
            ),
            "cells",
        ),
        (SHEET, lambda data: b'<!DOCTYPE a [<!ENTITY b "c">]>' + data, "entities"),
        (SHEET, lambda data: '<!DOCTYPE a [<!ENTITY b "c">]><a/>'.encode("utf-16"), "entities"),
        (SHEET, lambda data: data[:-20], "sound XML"),
        ("xl/sharedStrings.xml", lambda data: b"<sst><si><t>" + b"a" * 5_000_000 + b"</t></si></sst>", "packed"),
        ("../outside.xml", lambda data: b"<a/>", "points outside"),
        ("xl/workbook.xml", lambda data: b"<workbook/>", "cannot be read"),
    ],
)
def test_hostile_workbooks_are_refused(tmp_path, name, change, reason):
    path = repacked(workbook(tmp_path / "bad.xlsx"), name, change)
    with pytest.raises(ScenarioError, match=reason):
        open_workbook(path)


def test_late_entity_declaration_is_refused(tmp_path):
    """However far it stands from the beginning."""
    late = b"<!--worksheet" + b" " * 2000 + b'--><!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>'
    with pytest.raises(ScenarioError, match="declares XML entities"):
        check_workbook(repacked(workbook(tmp_path / "late.xlsx"), SHEET, lambda data: late))


def test_encrypted_entry_is_refused(tmp_path):
    path = workbook(tmp_path / "locked.xlsx")
    data = bytearray(path.read_bytes())
    place = data.find(b"PK\x01\x02")
    data[place + 8] |= 1
    path.write_bytes(data)
    with pytest.raises(ScenarioError, match="encrypted"):
        check_workbook(path)


@pytest.mark.parametrize(("name", "data"), [("a.xls", b"x"), ("a.xlsx", b"no zip"), ("a.xlsx", b"")])
def test_what_is_no_workbook_is_refused(tmp_path, name, data):
    (tmp_path / name).write_bytes(data)
    with pytest.raises(ScenarioError, match=r"a\.xls"):
        open_workbook(tmp_path / name)


def test_missing_file_is_named(tmp_path):
    with pytest.raises(ScenarioError, match="no such file"):
        open_workbook(tmp_path / "nowhere.xlsx")


@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_text_of_every_usual_coding(tmp_path, coding):
    (tmp_path / "list.csv").write_bytes("Stück;Länge\n3;12,5\n".encode(coding))
    assert read_csv(tmp_path / "list.csv") == [["Stück", "Länge"], ["3", "12,5"]]


def test_binary_file_is_no_text(tmp_path):
    (tmp_path / "list.csv").write_bytes(b"a\0b")
    with pytest.raises(ScenarioError, match="zero bytes"):
        read_text(tmp_path / "list.csv")


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
def test_separator_is_found(tmp_path, separator):
    (tmp_path / "list.csv").write_text("\n".join(separator.join(row) for row in (["a", "b", "c"], ["1", "2", "3"])))
    assert read_csv(tmp_path / "list.csv") == [["a", "b", "c"], ["1", "2", "3"]]


# triggers after MITRE CWE-1236 (= + - @) and OWASP ASVS 1.2.10 (tab, NUL); carriage return from memory of OWASP's CSV page
@pytest.mark.parametrize("start", list("=+-@\t\r\0＝＋－＠"))
def test_text_that_looks_like_a_formula_is_made_safe(start):
    text = start + "1+1"
    assert safe_text(text) == "'" + text
    assert plain_text(safe_text(text)) == text


def test_numbers_stay_numbers_in_csv():
    text = csv_text(["part", "x"], [["-a", -2.5], ["b", None], ["=cmd|'/c'!A1", 1e-3]])
    assert list(csv.reader(io.StringIO(text))) == [
        ["part", "x"],
        ["'-a", "-2.5"],
        ["b", ""],
        ["'=cmd|'/c'!A1", "0.001"],
    ]


def test_a_failed_write_leaves_the_old_file_and_no_other(tmp_path):
    target = tmp_path / "out.csv"
    target.write_text("old")
    with pytest.raises(RuntimeError), whole_file(target, replace=True) as place:
        place.write_text("half")
        raise RuntimeError
    assert target.read_text() == "old"
    assert [item.name for item in tmp_path.iterdir()] == ["out.csv"]


def test_nothing_is_overwritten_unasked(tmp_path):
    target = tmp_path / "out.csv"
    with whole_file(target) as place:
        place.write_text("new")
    assert target.read_text() == "new"
    with pytest.raises(ScenarioError, match="there already"), whole_file(target):
        pass


def test_a_folder_is_written_whole_or_not_at_all(tmp_path):
    with pytest.raises(RuntimeError), whole_folder(tmp_path / "shop") as place:
        (place / "parts.csv").write_text("half")
        raise RuntimeError
    assert list(tmp_path.iterdir()) == []
    with whole_folder(tmp_path / "shop") as place:
        (place / "parts.csv").write_text("all")
    assert (tmp_path / "shop" / "parts.csv").read_text() == "all"
    with pytest.raises(ScenarioError, match="there already"), whole_folder(tmp_path / "shop"):
        pass
